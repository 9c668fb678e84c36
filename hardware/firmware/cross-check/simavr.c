// The same program on another emulator: Debian's simavr runs coldbench.elf, and the times that matter are taken anew.
// Nothing of hardware/emulator/ is used here. `make cross-check` in the folder above builds and runs this.
#include <avr_ioport.h>
#include <avr_spi.h>
#include <avr_uart.h>
#include <sim_avr.h>
#include <sim_elf.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CYCLES_A_MS 16000
#define CYCLES_A_BYTE 640
#define PORTB_DIRECTION 0x24
#define PORTB_OUTPUT 0x25
#define OUTPUTS_DISABLE 0x02
#define REGISTER_LATCH 2
#define EMERGENCY_STOP 4

static avr_t *avr;
static avr_irq_t *received;
static avr_irq_t *spi_in;
static uint16_t shifted;
static uint16_t outputs;
static char line[256];
static size_t length;
static bool failed;

static void sleep_no_time(avr_t *chip, avr_cycle_count_t cycles) {
    (void)chip;
    (void)cycles;
}

// Two 74HC595 in a row.
static void spi_byte(avr_irq_t *irq, uint32_t value, void *param) {
    (void)irq;
    (void)param;
    uint8_t out = shifted >> 8;
    shifted = (uint16_t)(shifted << 8 | (value & 0xff));
    avr_raise_irq(spi_in, out);
}

static void latch(avr_irq_t *irq, uint32_t value, void *param) {
    (void)param;
    if (value && !irq->value)
        outputs = shifted & 0x0fff;
}

static void sent(avr_irq_t *irq, uint32_t value, void *param) {
    (void)irq;
    (void)param;
    if (value != '\n') {
        if (length < sizeof(line) - 1)
            line[length++] = (char)value;
        return;
    }
    line[length] = 0;
    length = 0;
    if (strncmp(line, "SEEN", 4) != 0)
        printf("  %s\n", line);
}

static bool driving(void) {
    return (avr->data[PORTB_DIRECTION] & OUTPUTS_DISABLE) && !(avr->data[PORTB_OUTPUT] & OUTPUTS_DISABLE);
}

static double now_ms(void) { return (double)avr->cycle / CYCLES_A_MS; }

static void run_until(avr_cycle_count_t cycle) {
    while (avr->cycle < cycle) {
        int state = avr_run(avr);
        if (state == cpu_Done || state == cpu_Crashed) {
            printf("the program has stopped\n");
            exit(1);
        }
    }
}

static void wait_ms(double ms) { run_until(avr->cycle + (avr_cycle_count_t)(ms * CYCLES_A_MS)); }

static void send(const char *text) {
    for (; *text; text++) {
        run_until(avr->cycle + CYCLES_A_BYTE);
        avr_raise_irq(received, (uint8_t)*text);
    }
}

static void expect(bool right, const char *what) {
    if (right)
        return;
    printf("WRONG: %s\n", what);
    failed = true;
}

// Time from now until nothing is driven any more.
static void expect_off(const char *what, double limit_ms) {
    double since = now_ms();
    expect(driving(), "the outputs are not enabled before");
    while (driving() && now_ms() < since + 400)
        run_until(avr->cycle + 1);
    double took = now_ms() - since;
    printf("%s: off after %.2f ms (limit %.0f ms)\n", what, took, limit_ms);
    expect(took <= limit_ms, what);
}

// Levels from outside have to be told twice: for now, and for whenever the program writes the port and its pull-ups.
static void contact(int pin, bool closed) {
    static uint8_t levels, pins;
    pins |= 1 << pin;
    levels = closed ? levels & ~(1 << pin) : levels | 1 << pin;
    avr_ioport_external_t external = {.name = 'D', .mask = pins, .value = levels};
    avr_ioctl(avr, AVR_IOCTL_IOPORT_SET_EXTERNAL('D'), &external);
    avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('D'), pin), !closed);
}

static void hang(void) {
    static const uint8_t self[] = {0xff, 0xcf};
    while (!avr->sreg[S_I])
        run_until(avr->cycle + 1);
    memcpy(avr->flash + avr->flashend - 1, self, sizeof self);
    avr->pc = avr->flashend - 1;
    avr->state = cpu_Running;
}

static void build(const char *path) {
    elf_firmware_t firmware = {0};
    if (elf_read_firmware(path, &firmware) != 0 || (avr = avr_make_mcu_by_name("atmega328p")) == NULL) {
        printf("cannot load %s\n", path);
        exit(1);
    }
    avr_init(avr);
    avr->frequency = 16000000;
    avr_load_firmware(avr, &firmware);
    avr->sleep = sleep_no_time;
    uint32_t flags = 0;
    avr_ioctl(avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
    received = avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_INPUT);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT), sent, NULL);
    spi_in = avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(0), SPI_IRQ_INPUT);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(0), SPI_IRQ_OUTPUT), spi_byte, NULL);
    avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ('B'), REGISTER_LATCH), latch, NULL);
    contact(2, false);
    for (int pin = EMERGENCY_STOP; pin < 8; pin++)
        contact(pin, true);
}

// Lines from hardware/protocol-vectors.txt: their checks are known there.
int main(int count, char **paths) {
    build(count > 1 ? paths[1] : "coldbench.elf");
    wait_ms(60);
    expect(!driving(), "outputs are enabled before anybody has asked for it");
    send("HELLO 01*999<\n");
    wait_ms(30);
    send("ARM 0001 00000003 0000 FFFF*3:06\n");
    wait_ms(2);
    send("SET 0001 00000004 0003 FFFC*:0??\n");
    double last_ms = now_ms();
    wait_ms(5);
    expect(driving() && outputs == 0x0003, "the line is not obeyed");
    while (driving() && now_ms() < last_ms + 400)
        run_until(avr->cycle + 1);
    printf("silence: off after %.2f ms (limit 250 ms)\n", now_ms() - last_ms);
    expect(now_ms() - last_ms <= 250 && now_ms() - last_ms >= 239, "silence");

    send("SET 0001 00000007 0803 F7FC*29>7\n");
    wait_ms(5);
    expect(!driving(), "a tripped board obeys");
    send("ARM 0001 FFFFFFFF 0000 FFFF*=0?2\n");
    wait_ms(5.3);
    contact(EMERGENCY_STOP, false);
    expect_off("emergency stop", 5);
    contact(EMERGENCY_STOP, true);

    send("HELLO 01*999<\n");
    wait_ms(30);
    send("ARM 0002 00000000 0000 FFFF*1<29\n");
    wait_ms(5);
    hang();
    expect_off("hang", 150);
    wait_ms(60);
    expect(!driving(), "outputs are enabled after the reset");
    printf("%s\n", failed ? "simavr does not agree" : "simavr agrees");
    return failed;
}
