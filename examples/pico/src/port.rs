//! The serial port over USB. The interrupt keeps the bus going; a full buffer is left to the reader to empty.

use core::cell::RefCell;
use core::convert::Infallible;

use critical_section::Mutex;
use embedded_io::{ErrorType, Read, Write};
use usb_device::bus::UsbBusAllocator;
use usb_device::device::{StringDescriptors, UsbDevice, UsbDeviceBuilder, UsbDeviceState};
use usbd_serial::SerialPort;

use crate::board::{self, Bus};

type Serial = SerialPort<'static, Bus, [u8; 512], [u8; 512]>;

struct Usb {
    device: UsbDevice<'static, Bus>,
    serial: Serial,
}

static USB: Mutex<RefCell<Option<Usb>>> = Mutex::new(RefCell::new(None));

impl Usb {
    fn poll(&mut self) {
        self.device.poll(&mut [&mut self.serial]);
    }

    /// Somebody listens: the device is configured, and the program at the other end says that it is ready.
    fn heard(&self) -> bool {
        self.device.state() == UsbDeviceState::Configured && self.serial.dtr()
    }
}

fn with<R>(act: impl FnOnce(&mut Usb) -> R, otherwise: R) -> R {
    critical_section::with(|cs| USB.borrow(cs).borrow_mut().as_mut().map_or(otherwise, act))
}

/// Starts the port.
pub fn start(bus: &'static UsbBusAllocator<Bus>) {
    let serial = SerialPort::new_with_store(bus, [0; 512], [0; 512]);
    let strings = [StringDescriptors::default()
        .manufacturer("halfskip")
        .product("halfskip console")
        .serial_number("1")];
    let Ok(builder) = UsbDeviceBuilder::new(bus, board::IDENTITY).strings(&strings) else { return };
    // Some hosts want the first descriptor in one packet.
    let Ok(builder) = builder.max_packet_size_0(64) else { return };
    let device = builder.device_class(usbd_serial::USB_CLASS_CDC).build();
    critical_section::with(|cs| USB.borrow(cs).replace(Some(Usb { device, serial })));
    board::port_interrupt(true);
}

/// What the board calls when the bus has something.
pub fn interrupted() {
    let full = with(
        |usb| {
            usb.poll();
            // Takes a packet into the buffer when it has room; without room the bus would ask again and again.
            let waiting = usb.device.state() == UsbDeviceState::Configured;
            waiting && usb.serial.read(&mut []).is_ok()
        },
        false,
    );
    if full {
        board::port_interrupt(false);
    }
}

/// The port as `serve` takes it.
pub struct Port;

impl Port {
    /// Waits until somebody listens.
    pub fn connected(&self) {
        while !with(
            |usb| {
                usb.poll();
                usb.heard()
            },
            false,
        ) {
            cortex_m::asm::wfe();
        }
    }
}

impl ErrorType for Port {
    type Error = Infallible;
}

impl Read for Port {
    fn read(&mut self, into: &mut [u8]) -> Result<usize, Infallible> {
        if into.is_empty() {
            return Ok(0);
        }
        loop {
            let count = with(
                |usb| {
                    usb.poll();
                    usb.serial.read(into).unwrap_or(0)
                },
                0,
            );
            board::port_interrupt(true);
            if count > 0 {
                return Ok(count);
            }
            // An interrupt between the look and this is an event, and is not slept through.
            cortex_m::asm::wfe();
        }
    }
}

impl Write for Port {
    /// What nobody hears is lost: a device does not wait for a cable.
    fn write(&mut self, bytes: &[u8]) -> Result<usize, Infallible> {
        if bytes.is_empty() {
            return Ok(0);
        }
        loop {
            let count = with(
                |usb| {
                    usb.poll();
                    if usb.heard() { usb.serial.write(bytes).unwrap_or(0) } else { bytes.len() }
                },
                bytes.len(),
            );
            if count > 0 {
                return Ok(count);
            }
        }
    }

    fn flush(&mut self) -> Result<(), Infallible> {
        with(
            |usb| {
                usb.poll();
                let _ = usb.serial.flush();
            },
            (),
        );
        Ok(())
    }
}
