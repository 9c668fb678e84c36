// Coldbench's board: starts everything, then receives, reads the bridge, reports, feeds the watchdog and sleeps.
#include "analog.h"
#include "bridge.h"
#include "chain.h"
#include "guard.h"
#include "pins.h"
#include "receiver.h"
#include "telemetry.h"
#include "tick.h"
#include "uart.h"
#include "watchdog.h"
#include <avr/interrupt.h>
#include <avr/sleep.h>

// The instruction after sei() runs before any interrupt, so that no byte can slip in between the question and the sleep.
static void sleep_until_something_happens(void) {
    cli();
    if (uart_waiting()) {
        sei();
        return;
    }
    sleep_enable();
    sei();
    sleep_cpu();
    sleep_disable();
}

int main(void) {
    pins_begin();
    chain_begin();
    analog_begin();
    uart_begin();
    telemetry_begin();
    if (watchdog_boot_cause() == BOOT_WATCHDOG)
        guard_trip(TRIP_WATCHDOG);
    set_sleep_mode(SLEEP_MODE_IDLE);
    tick_begin();
    sei();
    for (;;) {
        receiver_step();
        bridge_step();
        telemetry_step();
        watchdog_step();
        sleep_until_something_happens();
    }
}
