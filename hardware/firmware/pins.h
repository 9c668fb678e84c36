// Which pin does what. Pin numbers are the chip's own port bits; docs/rig.md has the schematic.
#pragma once
#include <avr/io.h>

// Port D: 0 and 1 are the UART. Pulled up, a line that nobody drives is idle and no noise.
#define RECEIVE PD0
#define BRIDGE_DATA PD2
#define BRIDGE_CLOCK PD3
#define EMERGENCY_STOP PD4 // closed to ground = not pressed
#define HIGH_PRESSURE PD5  // closed to ground = pressure is in order
#define GAS_ALARM PD6      // closed to ground = no alarm
#define FAN_FLOW PD7       // closed to ground = air moves

// Port B.
#define CONVERTER_SELECT PB0 // low = selected; high lets the chain's buffer drive MISO
#define OUTPUTS_DISABLE PB1  // /OE of both registers, pulled up outside: an unprogrammed or reset chip drives nothing
#define REGISTER_LATCH PB2   // must be an output: a low SS input would throw the SPI out of master mode
#define SPI_OUT PB3
#define SPI_IN PB4
#define SPI_CLOCK PB5

// Port C: 0 to 4 are the analog inputs.
#define FAN_STOP PC5 // high energises the relay; its driver has a pull-down

/** Directions and safe levels, before anything else runs. */
static inline void pins_begin(void) {
    PORTB = _BV(CONVERTER_SELECT) | _BV(OUTPUTS_DISABLE) | _BV(SPI_IN);
    DDRB = _BV(CONVERTER_SELECT) | _BV(OUTPUTS_DISABLE) | _BV(REGISTER_LATCH) | _BV(SPI_OUT) | _BV(SPI_CLOCK);
    PORTC = 0;
    DDRC = _BV(FAN_STOP);
    PORTD = _BV(RECEIVE) | _BV(BRIDGE_DATA) | _BV(EMERGENCY_STOP) | _BV(HIGH_PRESSURE) | _BV(GAS_ALARM) | _BV(FAN_FLOW);
    DDRD = _BV(BRIDGE_CLOCK);
    DIDR0 = 0x1f;
}
