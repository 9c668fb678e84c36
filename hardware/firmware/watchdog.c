// The watchdog, and the cause of boot.
#include "watchdog.h"
#include <avr/io.h>
#include <avr/wdt.h>
#include <util/atomic.h>

#define ALIVE_ALL (ALIVE_TICK | ALIVE_RECEIVER | ALIVE_TELEMETRY)

static volatile uint8_t alive;
static uint8_t reset_flags __attribute__((section(".noinit")));

// Before anything else runs: after a reset by the watchdog it stays on at its shortest time, 16 ms. Half of what the
// protocol allows (150 ms), because the watchdog's own oscillator is not exact.
void watchdog_first(void) __attribute__((naked, used, section(".init3")));
void watchdog_first(void) {
    reset_flags = MCUSR;
    MCUSR = 0;
    wdt_enable(WDTO_60MS);
}

void watchdog_alive(uint8_t part) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { alive |= part; }
}

void watchdog_step(void) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        if (alive == ALIVE_ALL) {
            alive = 0;
            wdt_reset();
        }
    }
}

// At power-on other flags may be set too, so that one goes first.
enum boot_cause watchdog_boot_cause(void) {
    if (reset_flags & _BV(PORF))
        return BOOT_POWER;
    if (reset_flags & _BV(WDRF))
        return BOOT_WATCHDOG;
    if (reset_flags & _BV(BORF))
        return BOOT_BROWN_OUT;
    if (reset_flags & _BV(EXTRF))
        return BOOT_RESET_PIN;
    return BOOT_UNKNOWN;
}
