// Reads a line of the host: strict, with fixed lengths.
#include "frame.h"
#include <avr/pgmspace.h>
#include <stdbool.h>
#include <util/crc16.h>

#define CHECK_LENGTH 5 // * and four characters

static const uint8_t *at;
static const uint8_t *end;

static bool literal(PGM_P text) {
    for (char c; (c = pgm_read_byte(text)); text++)
        if (at == end || *at++ != (uint8_t)c)
            return false;
    return true;
}

static bool character(char c) { return at != end && *at++ == (uint8_t)c; }

static bool hex(uint8_t digits, uint32_t *value) {
    *value = 0;
    while (digits--) {
        if (at == end)
            return false;
        uint8_t c = *at++;
        uint8_t digit;
        if (c >= '0' && c <= '9')
            digit = c - '0';
        else if (c >= 'A' && c <= 'F')
            digit = c - 'A' + 10;
        else
            return false;
        *value = *value << 4 | digit;
    }
    return true;
}

static bool hex16(uint16_t *value) {
    uint32_t wide;
    bool right = hex(4, &wide);
    *value = wide;
    return right;
}

// The four characters of a check, 0x30 to 0x3F: one flipped bit of one is one of the check, or makes it none.
static bool check_value(uint16_t *value) {
    *value = 0;
    for (uint8_t left = 4; left; left--) {
        uint8_t nibble = *at++ - '0';
        if (nibble > 15)
            return false;
        *value = *value << 4 | nibble;
    }
    return true;
}

static bool countdowns(struct frame *frame) {
    int8_t last = -1;
    while (at != end) {
        uint32_t bit, ms;
        if (!character(' ') || !hex(1, &bit) || !character(':') || !hex(6, &ms))
            return false;
        uint16_t mask = 1u << bit;
        if (ms == 0 || (int8_t)bit <= last || !(frame->word & mask))
            return false;
        last = bit;
        frame->countdowns.given |= mask;
        frame->countdowns.ms[bit] = ms;
    }
    return true;
}

// ARM and SET: session, number, word and its complement.
static bool command(struct frame *frame) {
    uint16_t complement;
    frame->countdowns.given = 0;
    if (!hex16(&frame->session) || !character(' ') || !hex(8, &frame->number) || !character(' ') ||
        !hex16(&frame->word) || !character(' ') || !hex16(&complement))
        return false;
    return complement == (uint16_t)~frame->word && !(frame->word & OUTPUT_BITS_UNUSED);
}

static enum frame_kind payload(struct frame *frame) {
    const uint8_t *start = at;
    uint32_t version;
    if (literal(PSTR("SET ")) && command(frame) && countdowns(frame))
        return FRAME_SET;
    at = start;
    if (literal(PSTR("ARM ")) && command(frame) && frame->word == 0 && at == end)
        return FRAME_ARM;
    at = start;
    if (literal(PSTR("HELLO ")) && hex(2, &version) && at == end) {
        frame->version = version;
        return FRAME_HELLO;
    }
    return FRAME_BAD_FORM;
}

static bool printable(const uint8_t *from, const uint8_t *to) {
    for (; from != to; from++)
        if (*from < 0x20 || *from > 0x7e || *from == '*')
            return false;
    return true;
}

void frame_read(const uint8_t *line, uint8_t length, struct frame *frame) {
    if (length == 1 && *line == '?') {
        frame->kind = FRAME_ASKED;
        return;
    }
    frame->kind = FRAME_BAD_FORM;
    if (length <= CHECK_LENGTH)
        return;
    uint16_t check;
    end = line + length;
    at = end - CHECK_LENGTH;
    if (!character('*') || !check_value(&check))
        return;
    end = line + length - CHECK_LENGTH;
    if (!printable(line, end))
        return;
    uint16_t crc = 0xffff;
    for (at = line; at != end; at++)
        crc = _crc_xmodem_update(crc, *at);
    if (crc != check) {
        frame->kind = FRAME_BAD_CHECK;
        return;
    }
    at = line;
    frame->kind = payload(frame);
}
