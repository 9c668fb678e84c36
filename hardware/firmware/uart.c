// The UART at 250,000 baud, 8N1, with a ring of bytes each way. Rings are 256 long: an index wraps by itself.
#include "uart.h"
#include "losses.h"
#include <avr/interrupt.h>
#include <avr/io.h>

// 16 MHz / 16 / 250,000 - 1, without error.
#define RATE 3
// Stands in the line for a byte that was not received right; no line may contain it.
#define SPOILT 0

static volatile uint8_t in[256], in_head, in_tail;
static volatile uint8_t out[256], out_head, out_tail;

void uart_begin(void) {
    UBRR0 = RATE;
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(RXCIE0) | _BV(RXEN0) | _BV(TXEN0);
}

ISR(USART_RX_vect) {
    // The flags belong to the byte that UDR0 gives, and are gone once it was read.
    uint8_t flags = UCSR0A;
    uint8_t byte = UDR0;
    if (flags & _BV(DOR0))
        losses_count(LOSS_OVERRUN);
    if (flags & _BV(FE0)) {
        losses_count(LOSS_FRAMING);
        byte = SPOILT;
    }
    uint8_t next = in_head + 1;
    if (next == in_tail) {
        losses_count(LOSS_OVERFLOW);
        return;
    }
    in[in_head] = byte;
    in_head = next;
}

ISR(USART_UDRE_vect) {
    if (out_tail == out_head) {
        UCSR0B &= ~_BV(UDRIE0);
        return;
    }
    UDR0 = out[out_tail];
    out_tail++;
}

bool uart_waiting(void) { return in_head != in_tail; }

uint8_t uart_take(void) {
    uint8_t byte = in[in_tail];
    in_tail++;
    return byte;
}

uint8_t uart_room(void) { return out_tail - out_head - 1; }

void uart_put(uint8_t byte) {
    out[out_head] = byte;
    out_head++;
}

// Alone in the main program, so that no interrupt can change the register between reading and writing it.
void uart_send(void) {
    uint8_t status = SREG;
    cli();
    UCSR0B |= _BV(UDRIE0);
    SREG = status;
}
