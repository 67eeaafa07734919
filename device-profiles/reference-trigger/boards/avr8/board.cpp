// The reference trigger on an 8-bit AVR with USART0, timer 1 and 2 KB of RAM. Pins:
//   PD0 RXD, PD1 TXD  the serial line, 115200 8N1
//   PD2               half-press: high lights the optocoupler's LED and closes the contact
//   PD3               release: likewise
//   PB5               a lamp that is lit while a contact is closed
// At reset every pin is an input without pull-up, so both LEDs are dark and the contacts open.

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/wdt.h>

#include "trigger_core.h"

#ifndef F_CPU
#error "give the clock, e.g. -DF_CPU=16000000UL"
#endif

#define BAUD 115200UL
#define BAUD_TOL 3  // percent; 16 MHz gives 2.1
#include <util/setbaud.h>

namespace {

const uint8_t kHalfPress = 1 << PD2;
const uint8_t kRelease = 1 << PD3;
const uint8_t kLamp = 1 << PB5;

// Timer 1 counts at an eighth of the clock.
const uint32_t kTicksPerUs = F_CPU / 8000000UL;
static_assert(F_CPU % 8000000UL == 0 && kTicksPerUs >= 1, "F_CPU must be a multiple of 8 MHz");

// Bytes that came in while the core was busy: 5 ms of them.
const uint8_t kQueueBytes = 64;
// So few that the exposure's end is not kept waiting, so many that a long line does not pile up.
const uint8_t kBytesPerRound = 8;
volatile uint8_t queue[kQueueBytes];
volatile uint8_t queue_from = 0;
volatile uint8_t queue_count = 0;
volatile bool faulty = false;

volatile uint32_t wraps_us = 0;

uint32_t micros() {
  uint8_t before = SREG;
  cli();
  uint32_t us = wraps_us;
  uint16_t ticks = TCNT1;
  if ((TIFR1 & (1 << TOV1)) && ticks < 0x8000u) {
    us += 65536UL / kTicksPerUs;  // It wrapped, and its interrupt waits.
  }
  SREG = before;
  return us + ticks / kTicksPerUs;
}

bool take_byte(uint8_t& byte) {
  uint8_t before = SREG;
  cli();
  bool any = queue_count > 0;
  if (any) {
    byte = queue[queue_from];
    queue_from = static_cast<uint8_t>((queue_from + 1) % kQueueBytes);
    queue_count = static_cast<uint8_t>(queue_count - 1);
  }
  SREG = before;
  return any;
}

void drive(uint8_t pin, bool closed) {
  if (closed) {
    PORTD = static_cast<uint8_t>(PORTD | pin);
  } else {
    PORTD = static_cast<uint8_t>(PORTD & ~pin);
  }
  if (PORTD & (kHalfPress | kRelease)) {
    PORTB = static_cast<uint8_t>(PORTB | kLamp);
  } else {
    PORTB = static_cast<uint8_t>(PORTB & ~kLamp);
  }
}

void set_half_press(void*, bool closed) { drive(kHalfPress, closed); }

void set_release(void*, bool closed) { drive(kRelease, closed); }

bool write_byte(void*, uint8_t byte) {
  if (!(UCSR0A & (1 << UDRE0))) {
    return false;
  }
  UDR0 = byte;
  return true;
}

void feed_watchdog(void*) { wdt_reset(); }

const scenespan::Hardware kHardware = {nullptr, set_half_press, set_release, write_byte,
                                       feed_watchdog};
scenespan::TriggerCore core(kHardware, scenespan::kContactLimits);

}  // namespace

// After a reset by the watchdog it runs on, with its shortest time: stop it before anything else.
extern "C" void stop_watchdog() __attribute__((naked, used, section(".init3")));
extern "C" void stop_watchdog() {
  MCUSR = 0;
  wdt_disable();
}

ISR(TIMER1_OVF_vect) { wraps_us = wraps_us + 65536UL / kTicksPerUs; }

// Parts with more than one call the first one so.
#ifndef USART_RX_vect
#define USART_RX_vect USART0_RX_vect
#endif

ISR(USART_RX_vect) {
  uint8_t state = UCSR0A;
  uint8_t byte = UDR0;
  if ((state & ((1 << FE0) | (1 << DOR0) | (1 << UPE0))) || queue_count == kQueueBytes) {
    faulty = true;
  } else {
    queue[(queue_from + queue_count) % kQueueBytes] = byte;
    queue_count = static_cast<uint8_t>(queue_count + 1);
  }
}

int main() {
  PORTD = 0;
  PORTB = 0;
  DDRD = kHalfPress | kRelease | (1 << PD1);
  DDRB = kLamp;

  TCCR1A = 0;
  TCCR1B = 1 << CS11;
  TIMSK1 = 1 << TOIE1;

  UBRR0 = UBRR_VALUE;
#if USE_2X
  UCSR0A = 1 << U2X0;
#endif
  UCSR0C = (1 << UCSZ01) | (1 << UCSZ00);
  UCSR0B = (1 << RXEN0) | (1 << TXEN0) | (1 << RXCIE0);

  core.start(micros());
  wdt_enable(WDTO_250MS);
  sei();
  for (;;) {
    if (faulty) {
      faulty = false;
      core.line_fault(micros());
    }
    uint8_t byte;
    for (uint8_t i = 0; i < kBytesPerRound && take_byte(byte); i++) {
      core.receive(byte, micros());
    }
    core.poll(micros());
  }
}
