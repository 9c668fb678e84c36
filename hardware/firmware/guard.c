// Whether the board may drive anything: armed or not, and why not.
#include "guard.h"
#include "chain.h"
#include "outputs.h"
#include "switches.h"
#include <util/atomic.h>

static volatile bool armed;
static volatile uint8_t reason;
static uint8_t silence_left_ms;

void guard_trip(enum trip why) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        outputs_drop();
        armed = false;
        if (reason == TRIP_NONE)
            reason = why;
    }
}

void guard_disarm(void) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        outputs_drop();
        armed = false;
    }
}

bool guard_arm(void) {
    bool may = false;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        // Where it may not, a board that is armed already is left to the tick, which knows the reason to trip.
        if (!emergency_stop_pressed() && !pressure_too_high() && chain_faults() == 0) {
            // Disables the registers until a tick has read a word back: what they hold is older than this line.
            outputs_drop();
            reason = TRIP_NONE;
            silence_left_ms = EXPIRE_MS;
            armed = true;
            may = true;
        }
    }
    return may;
}

void guard_renew(void) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { silence_left_ms = EXPIRE_MS; }
}

void guard_step(void) {
    if (!armed)
        return;
    if (emergency_stop_pressed())
        guard_trip(TRIP_EMERGENCY_STOP);
    else if (pressure_too_high())
        guard_trip(TRIP_HIGH_PRESSURE);
    else if (--silence_left_ms == 0)
        guard_trip(TRIP_LINK_LOST);
}

void guard_chain_step(void) {
    if (armed && chain_faults() >= CHAIN_FAULTS_TRIP)
        guard_trip(TRIP_OUTPUT_CHAIN);
}

bool guard_armed(void) { return armed; }
enum trip guard_reason(void) { return reason; }
