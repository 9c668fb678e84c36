// What is in the board's own lines, as docs/protocol.md has them.
#include "says.h"
#include "analog.h"
#include "bridge.h"
#include "converter.h"
#include "guard.h"
#include "losses.h"
#include "outputs.h"
#include "session.h"
#include "switches.h"
#include "tick.h"
#include "watchdog.h"
#include "writer.h"

#define FIRMWARE " firmware=1.0.0"

static uint16_t seen_count;

// Texts of a list, each ended by a zero.
static void one_of(PGM_P texts, uint8_t which) {
    while (which)
        if (pgm_read_byte(texts++) == 0)
            which--;
    writer_text(texts);
}

void say_boot(void) {
    writer_begin();
    writer_text(PSTR("BOOT cause="));
    one_of(PSTR("power\0reset-pin\0brown-out\0watchdog\0unknown"), watchdog_boot_cause());
    writer_text(PSTR(FIRMWARE));
    writer_end();
}

void say_board(void) {
    writer_begin();
    writer_text(PSTR("BOARD protocol="));
    writer_hex(PROTOCOL_VERSION, 2);
    writer_text(PSTR(FIRMWARE " session="));
    writer_hex(session_number(), 4);
    writer_text(PSTR(" outputs="));
    writer_unsigned(OUTPUT_COUNT);
    writer_text(PSTR(" expire="));
    writer_unsigned(EXPIRE_MS);
    writer_end();
}

static void state(void) {
    if (session_number() == 0)
        writer_text(PSTR(" idle"));
    else if (guard_armed())
        writer_text(PSTR(" armed"));
    else if (guard_reason() != TRIP_NONE)
        writer_text(PSTR(" tripped"));
    else
        writer_text(PSTR(" ready"));
    writer_text(PSTR(" trip="));
    one_of(PSTR("none\0link-lost\0emergency-stop\0high-pressure\0output-chain\0watchdog"), guard_reason());
}

static void analog(void) {
    for (uint8_t input = 0; input < ANALOG_INPUTS; input++) {
        uint16_t sum = analog_sum(input);
        enum analog_band band = analog_band(input, sum);
        if (input)
            writer_char(',');
        writer_unsigned(sum);
        if (band != BAND_INSIDE)
            writer_char(band == BAND_BELOW ? '<' : '>');
    }
}

static void converter(void) {
    for (uint8_t input = 0; input < CONVERTER_INPUTS; input++) {
        int16_t value;
        if (input)
            writer_char(',');
        if (converter_value(input, &value))
            writer_signed(value);
        else
            writer_char('x');
    }
}

static void bridge(void) {
    int32_t counts;
    uint16_t age_ms;
    if (!bridge_reading(&counts, &age_ms)) {
        writer_char('x');
        return;
    }
    writer_signed(counts);
    writer_char(',');
    writer_unsigned(age_ms);
}

void say_seen(void) {
    writer_begin();
    writer_text(PSTR("SEEN "));
    writer_hex(seen_count++, 4);
    writer_text(PSTR(" t="));
    writer_unsigned(tick_ms());
    state();
    writer_text(PSTR(" obeyed="));
    writer_hex(session_obeyed(), 8);
    writer_text(PSTR(" out="));
    writer_hex(outputs_word(), 4);
    writer_text(PSTR(" sw="));
    writer_hex(switches_digit(), 1);
    writer_text(PSTR(" an="));
    analog();
    writer_text(PSTR(" cv="));
    converter();
    writer_text(PSTR(" br="));
    bridge();
    writer_end();
}

void say_lost(void) {
    writer_begin();
    writer_text(PSTR("LOST overrun="));
    // The names stand between the numbers, so that each is written once.
    static const char NAMES[] PROGMEM =
        "\0 framing=\0 overflow=\0 long=\0 crc=\0 form=\0 session=\0 replay=\0 refused=\0 unsent=";
    for (uint8_t loss = 0; loss < LOSS_COUNT; loss++) {
        one_of(NAMES, loss);
        writer_unsigned(losses_of(loss));
    }
    writer_end();
}
