//! The interrupt vectors of the board. It has 32 and uses none; for a board that it does not know, the runtime makes room
//! for 240.

unsafe extern "C" {
    fn DefaultHandler();
}

// SAFETY: the section takes pointers to handlers, which these are, and the runtime leaves its own out.
#[unsafe(link_section = ".vector_table.interrupts")]
#[unsafe(no_mangle)]
static __INTERRUPTS: [unsafe extern "C" fn(); 32] = [DefaultHandler; 32];
