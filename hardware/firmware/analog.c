// The chip's own analog inputs, ten bits each, one conversion a tick in turn.
#include "analog.h"
#include <avr/io.h>
#include <util/atomic.h>

// 125 kHz: within the 50 to 200 kHz at which the converter gives its ten bits. A conversion takes 104 us.
#define START (_BV(ADEN) | _BV(ADSC) | _BV(ADPS2) | _BV(ADPS1) | _BV(ADPS0))
#define SUPPLY_IS_REFERENCE _BV(REFS0)

// Of a sum that is 10240 at the supply of 5 V.
#define SUM_OF(volts) ((uint16_t)((volts) * 10240 / 5 + 0.5))
#define TRANSDUCER_LOWEST SUM_OF(0.25)
#define TRANSDUCER_HIGHEST SUM_OF(4.75)
#define THERMISTOR_LOWEST SUM_OF(0.2)
#define THERMISTOR_HIGHEST SUM_OF(4.8)

static uint8_t input;
static uint8_t turns;
static uint16_t running[ANALOG_INPUTS];
static uint16_t sums[ANALOG_INPUTS];
static volatile bool ready;

void analog_begin(void) {
    ADMUX = SUPPLY_IS_REFERENCE;
    ADCSRA = START;
}

void analog_step(void) {
    running[input] += ADC;
    if (++input == ANALOG_INPUTS) {
        input = 0;
        if (++turns == ANALOG_SUMMED) {
            turns = 0;
            for (uint8_t each = 0; each < ANALOG_INPUTS; each++) {
                sums[each] = running[each];
                running[each] = 0;
            }
            ready = true;
        }
    }
    ADMUX = SUPPLY_IS_REFERENCE | input;
    ADCSRA = START;
}

uint16_t analog_sum(uint8_t which) {
    uint16_t sum;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { sum = sums[which]; }
    return sum;
}

enum analog_band analog_band(uint8_t which, uint16_t sum) {
    bool transducer = which < ANALOG_TRANSDUCERS;
    if (sum < (transducer ? TRANSDUCER_LOWEST : THERMISTOR_LOWEST))
        return BAND_BELOW;
    return sum > (transducer ? TRANSDUCER_HIGHEST : THERMISTOR_HIGHEST) ? BAND_ABOVE : BAND_INSIDE;
}

bool analog_ready(void) { return ready; }
