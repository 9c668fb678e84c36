// Who may command: the session and its rising numbers, and what becomes of each line of the host.
#include "session.h"
#include "guard.h"
#include "losses.h"
#include "outputs.h"
#include "telemetry.h"
#include <avr/eeprom.h>
#include <stdbool.h>
#include <util/atomic.h>

// Not the first cells: those are the ones that a brown-out in the middle of an access is known to hit.
#define STORED_HIGH ((uint8_t *)0x10)
#define STORED_LOW ((uint8_t *)0x11)

static uint16_t session;
static bool any_number; // of this session came
static uint32_t last_number;
static uint32_t obeyed;

// High byte first: a power cut between the two leaves a number that is ahead, never one that was given before.
static uint16_t next_session(void) {
    uint16_t next = ((uint16_t)eeprom_read_byte(STORED_HIGH) << 8 | eeprom_read_byte(STORED_LOW)) + 1;
    if (next == 0)
        next = 1;
    eeprom_update_byte(STORED_HIGH, next >> 8);
    eeprom_update_byte(STORED_LOW, next & 0xff);
    return next;
}

static void hello(uint8_t version) {
    guard_disarm();
    any_number = false;
    obeyed = 0;
    session = version == PROTOCOL_VERSION ? next_session() : 0;
    telemetry_identify();
}

static bool fresh(const struct frame *frame) {
    if (session == 0 || frame->session != session) {
        losses_count(LOSS_SESSION);
        return false;
    }
    if (any_number && frame->number <= last_number) {
        losses_count(LOSS_REPLAY);
        return false;
    }
    any_number = true;
    last_number = frame->number;
    return true;
}

// In one piece: a trip that came between asking and commanding would leave a word commanded on a tripped board.
static bool set(const struct frame *frame) {
    bool may = false;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        if (guard_armed()) {
            outputs_command(frame->word, &frame->countdowns);
            guard_renew();
            may = true;
        }
    }
    return may || frame->word == 0;
}

void session_obey(const struct frame *frame) {
    switch (frame->kind) {
    case FRAME_BAD_CHECK:
        losses_count(LOSS_CRC);
        return;
    case FRAME_BAD_FORM:
        losses_count(LOSS_FORM);
        return;
    case FRAME_ASKED:
        telemetry_answer();
        return;
    case FRAME_HELLO:
        hello(frame->version);
        return;
    case FRAME_ARM:
    case FRAME_SET:
        if (!fresh(frame))
            return;
        if (frame->kind == FRAME_ARM ? guard_arm() : set(frame))
            obeyed = frame->number;
        else
            losses_count(LOSS_REFUSED);
    }
}

uint16_t session_number(void) { return session; }
uint32_t session_obeyed(void) { return obeyed; }
