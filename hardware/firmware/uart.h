// The UART at 250,000 baud, 8N1, with a ring of bytes each way.
#pragma once
#include <stdbool.h>
#include <stdint.h>

void uart_begin(void);
/** Whether a byte waits. */
bool uart_waiting(void);
/** The oldest byte that waits. */
uint8_t uart_take(void);
/** How many bytes can be put without loss. */
uint8_t uart_room(void);
/** Puts a byte; whoever calls has asked for room. Nothing is sent before uart_send. */
void uart_put(uint8_t byte);
/** Sends what was put. */
void uart_send(void);
