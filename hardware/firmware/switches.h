// The four switch inputs. A broken wire reads as pressed, too high, alarm, no air.
#pragma once
#include "pins.h"
#include <stdbool.h>
#include <stdint.h>

// Bits of the protocol's switch digit.
#define SWITCH_EMERGENCY_STOP 1
#define SWITCH_HIGH_PRESSURE 2
#define SWITCH_GAS_ALARM 4
#define SWITCH_FAN_FLOW 8

static inline bool emergency_stop_pressed(void) { return PIND & _BV(EMERGENCY_STOP); }
static inline bool pressure_too_high(void) { return PIND & _BV(HIGH_PRESSURE); }

static inline uint8_t switches_digit(void) {
    uint8_t pins = PIND;
    uint8_t digit = 0;
    if (pins & _BV(EMERGENCY_STOP))
        digit |= SWITCH_EMERGENCY_STOP;
    if (pins & _BV(HIGH_PRESSURE))
        digit |= SWITCH_HIGH_PRESSURE;
    if (pins & _BV(GAS_ALARM))
        digit |= SWITCH_GAS_ALARM;
    if (!(pins & _BV(FAN_FLOW)))
        digit |= SWITCH_FAN_FLOW;
    return digit;
}
