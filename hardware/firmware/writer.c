// Writes one line of the board, with its check, straight into the ring of the UART.
#include "writer.h"
#include "uart.h"
#include <util/crc16.h>

static uint16_t crc;

void writer_begin(void) { crc = 0xffff; }

void writer_char(char c) {
    // CRC-16/IBM-3740 is this routine of avr-libc begun at 0xFFFF; _crc_ccitt_update is the reflected one.
    crc = _crc_xmodem_update(crc, c);
    uart_put(c);
}

void writer_text(PGM_P text) {
    for (char c; (c = pgm_read_byte(text)); text++)
        writer_char(c);
}

void writer_hex(uint32_t value, uint8_t digits) {
    while (digits--) {
        uint8_t digit = (uint8_t)(value >> (digits * 4)) & 0x0f;
        writer_char(digit < 10 ? '0' + digit : 'A' - 10 + digit);
    }
}

// Subtracting powers of ten is about ten times as fast here as dividing by ten.
static const uint32_t POWERS[] PROGMEM = {1000000000, 100000000, 10000000, 1000000, 100000, 10000, 1000, 100, 10};

void writer_unsigned(uint32_t value) {
    uint8_t started = 0;
    for (uint8_t at = 0; at < sizeof(POWERS) / sizeof(POWERS[0]); at++) {
        uint32_t power = pgm_read_dword(&POWERS[at]);
        char digit = '0';
        for (; value >= power; value -= power)
            digit++;
        started |= digit != '0';
        if (started)
            writer_char(digit);
    }
    writer_char('0' + (uint8_t)value);
}

void writer_signed(int32_t value) {
    if (value < 0)
        writer_char('-');
    writer_unsigned(value < 0 ? -(uint32_t)value : (uint32_t)value);
}

void writer_end(void) {
    uint16_t check = crc;
    writer_char('*');
    // 0x30 to 0x3F and no hexadecimal digits: what the CRC finds in bits it then finds in characters.
    for (uint8_t shift = 16; shift; check <<= 4, shift -= 4)
        uart_put('0' + (check >> 12));
    uart_put('\n');
    uart_send();
}
