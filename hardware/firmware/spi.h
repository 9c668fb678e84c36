// The SPI bus that the register chain and the 16-bit converter share. Only the tick uses it.
#pragma once
#include <avr/io.h>
#include <stdint.h>

// 2 MHz: half of what the converter allows, and kind to hand-made wiring.
#define SPI_MASTER (_BV(SPE) | _BV(MSTR) | _BV(SPR0))
/** Mode 0, for the registers: they take a bit at the rising edge. */
#define SPI_FOR_REGISTERS SPI_MASTER
/** Mode 1, for the converter: it takes a bit at the falling edge and gives one at the rising. */
#define SPI_FOR_CONVERTER (SPI_MASTER | _BV(CPHA))

static inline void spi_begin(void) {
    SPSR = _BV(SPI2X);
    SPCR = SPI_FOR_REGISTERS;
}

static inline uint8_t spi_swap(uint8_t byte) {
    SPDR = byte;
    while (!(SPSR & _BV(SPIF)))
        ;
    return SPDR;
}
