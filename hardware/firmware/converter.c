// The 16-bit converter on the SPI bus, of the ADS1118 kind (Texas Instruments, data sheet SBAS457). What is used of that
// data sheet is from memory and to be checked against it: SPI mode 1; SCLK up to 4 MHz; the configuration's bits; that
// the input is read as a configuration in the first two bytes of a cycle while the last conversion goes out, and that
// two bytes more give the configuration back; that DOUT is low while /CS is low and a conversion waits; 1.2 ms for one.
#include "converter.h"
#include "pins.h"
#include "spi.h"
#include <util/atomic.h>

#define TICKS_A_CONVERSION 5

#define START_ONE 0x8000
#define INPUT_0_TO_GROUND 0x4000 // the next inputs follow in steps of 0x1000
#define INPUT_STEP 0x1000
#define RANGE_6144_MV 0x0000
#define SINGLE_SHOT 0x0100
#define RATE_860 0x00e0
#define PULL_UP_ON_OUTPUT 0x0008
#define VALID 0x0002
#define RESERVED_ONE 0x0001
#define CONFIGURATION (START_ONE | RANGE_6144_MV | SINGLE_SHOT | RATE_860 | PULL_UP_ON_OUTPUT | VALID | RESERVED_ONE)
// What must come back of it: range, mode, rate, kind of input and pull-up. The start bit reads as "not busy".
#define COMES_BACK 0x0ff8

static uint8_t ticks;
static uint8_t converting;
static bool started;
static int16_t values[CONVERTER_INPUTS];
static uint8_t answered; // bit of each input whose last conversion came

static uint16_t swap(uint16_t word) {
    uint8_t high = spi_swap(word >> 8);
    return (uint16_t)high << 8 | spi_swap(word & 0xff);
}

static void transfer(void) {
    uint8_t next = (converting + 1) % CONVERTER_INPUTS;
    uint16_t configuration = CONFIGURATION | (INPUT_0_TO_GROUND + next * INPUT_STEP);
    SPCR = SPI_FOR_CONVERTER;
    PORTB &= ~_BV(CONVERTER_SELECT);
    // A pin takes one clock to be read and the part some nanoseconds to answer.
    __builtin_avr_delay_cycles(4);
    bool waits = !(PINB & _BV(SPI_IN));
    uint16_t conversion = swap(configuration);
    uint16_t back = swap(configuration);
    PORTB |= _BV(CONVERTER_SELECT);
    SPCR = SPI_FOR_REGISTERS;

    bool answers = ((back ^ configuration) & COMES_BACK) == 0;
    uint8_t bit = 1u << converting;
    if (started && waits && answers) {
        values[converting] = (int16_t)conversion;
        answered |= bit;
    } else {
        answered &= ~bit;
    }
    started = answers;
    converting = next;
}

void converter_step(void) {
    if (++ticks < TICKS_A_CONVERSION)
        return;
    ticks = 0;
    transfer();
}

bool converter_value(uint8_t input, int16_t *value) {
    bool answers;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        *value = values[input];
        answers = answered & (1u << input);
    }
    return answers;
}
