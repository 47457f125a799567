/* The emulated board, an Arm MPS2 with the AN386 image: start-up, serial port, end. */

#include <stdint.h>

#include "board.h"

#define UART(offset) (*(volatile uint32_t *)(0x40004000u + (offset)))

extern uint32_t stack_top, data_from, data_start, data_end, bss_start, bss_end;
int main(void);

void board_send(char character)
{
    while (UART(4) & 1u) {
    }
    UART(0) = (uint32_t)(unsigned char)character;
}

/* Ends the emulation: 0x20026 is the reason "application exit", anything else a failure. */
static void end(uint32_t reason)
{
    register uint32_t r0 __asm__("r0") = 0x18;
    register uint32_t r1 __asm__("r1") = reason;
    __asm__ volatile("bkpt 0xab" : : "r"(r0), "r"(r1) : "memory");
    for (;;) {
    }
}

static void fault(void)
{
    end(0x20023);
}

/* The compiler may call these. */
void *memcpy(void *to, const void *from, unsigned int count)
{
    unsigned char *into = to;
    const unsigned char *out = from;
    while (count-- > 0)
        *into++ = *out++;
    return to;
}

void *memset(void *to, int value, unsigned int count)
{
    unsigned char *into = to;
    while (count-- > 0)
        *into++ = (unsigned char)value;
    return to;
}

static void reset(void)
{
#ifdef __ARM_FP
    /* The floating-point unit is off after reset: full access to coprocessors 10 and 11. */
    *(volatile uint32_t *)0xE000ED88u |= 0xFu << 20;
    __asm__ volatile("dsb\nisb");
#endif
    uint32_t *from = &data_from;
    for (uint32_t *to = &data_start; to < &data_end; to++)
        *to = *from++;
    for (uint32_t *to = &bss_start; to < &bss_end; to++)
        *to = 0;
    UART(16) = 25000000u / 115200u;
    UART(8) = 1u;
    end(main() == 0 ? 0x20026 : 0x20023);
}

__attribute__((section(".vectors"), used)) static void (*const vectors[16])(void) = {
    (void (*)(void))&stack_top, reset, fault, fault, fault, fault, fault,
};
