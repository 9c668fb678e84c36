// Writes one line of the board, with its check, straight into the ring of the UART.
#pragma once
#include <avr/pgmspace.h>
#include <stdint.h>

void writer_begin(void);
void writer_char(char c);
/** A text in program memory. */
void writer_text(PGM_P text);
void writer_hex(uint32_t value, uint8_t digits);
void writer_unsigned(uint32_t value);
void writer_signed(int32_t value);
/** The check and the end of the line; sends it. */
void writer_end(void);
