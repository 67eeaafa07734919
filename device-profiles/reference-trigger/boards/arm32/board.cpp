// The reference trigger on a 32-bit Arm Cortex-M3 microcontroller with its peripherals at the
// addresses below (general-purpose family, 64 KB flash, 8 KB RAM or more). Pins:
//   PA9 TXD, PA10 RXD  the serial line, 115200 8N1
//   PA0                half-press: high lights the optocoupler's LED and closes the contact
//   PA1                release: likewise
//   PC13               a lamp to the supply that is lit while a contact is closed
// At reset every pin is a floating input, so both LEDs are dark and the contacts open.

#include <stddef.h>
#include <stdint.h>

#include "trigger_core.h"

namespace {

volatile uint32_t& at(uint32_t address) { return *reinterpret_cast<volatile uint32_t*>(address); }

const uint32_t kRccControl = 0x40021000, kRccConfig = 0x40021004, kRccEnable2 = 0x40021018;
const uint32_t kPortALow = 0x40010800, kPortAHigh = 0x40010804, kPortAOut = 0x4001080c;
const uint32_t kPortASet = 0x40010810, kPortCHigh = 0x40011004, kPortCSet = 0x40011010;
const uint32_t kUartState = 0x40013800, kUartByte = 0x40013804, kUartRate = 0x40013808;
const uint32_t kUartControl = 0x4001380c;
const uint32_t kTickControl = 0xe000e010, kTickReload = 0xe000e014, kTickNow = 0xe000e018;
const uint32_t kInterruptsOn1 = 0xe000e104;
const uint32_t kDogKey = 0x40003000, kDogDivider = 0x40003004, kDogReload = 0x40003008;

const uint32_t kClockHz = 8000000;  // the crystal, or without one the chip's own oscillator
const uint32_t kBaud = 115200;
const uint32_t kTicksPerUs = kClockHz / 1000000;
const uint32_t kTickMask = 0xffffff;

const uint32_t kHalfPress = 1u << 0;
const uint32_t kRelease = 1u << 1;
const uint32_t kLamp = 1u << 13;

// Bytes that came in while the core was busy: 5 ms of them.
const uint32_t kQueueBytes = 64;
const uint32_t kBytesPerRound = 8;
volatile uint8_t queue[kQueueBytes];
volatile uint32_t queue_in = 0;   // moved by the interrupt alone
volatile uint32_t queue_out = 0;  // moved by the loop alone
volatile bool faulty = false;

// The 24-bit counter runs down and wraps every two seconds; this is called far more often.
uint32_t micros() {
  static uint32_t last = 0;
  static uint32_t ticks_left = 0;
  static uint32_t us = 0;
  uint32_t now = at(kTickNow);
  ticks_left += (last - now) & kTickMask;
  last = now;
  us += ticks_left / kTicksPerUs;
  ticks_left %= kTicksPerUs;
  return us;
}

bool half_closed = false;
bool release_closed = false;

// The upper half of the register clears, the lower sets.
void drive(uint32_t pin, bool closed) {
  at(kPortASet) = closed ? pin : pin << 16;
  at(kPortCSet) = half_closed || release_closed ? kLamp << 16 : kLamp;
}

void set_half_press(void*, bool closed) {
  half_closed = closed;
  drive(kHalfPress, closed);
}

void set_release(void*, bool closed) {
  release_closed = closed;
  drive(kRelease, closed);
}

bool write_byte(void*, uint8_t byte) {
  if (!(at(kUartState) & (1u << 7))) {
    return false;
  }
  at(kUartByte) = byte;
  return true;
}

void feed_watchdog(void*) { at(kDogKey) = 0xaaaa; }

const scenespan::Hardware kHardware = {nullptr, set_half_press, set_release, write_byte,
                                       feed_watchdog};
scenespan::TriggerCore core(kHardware, scenespan::kContactLimits);

void start_clock() {
  // Two wait-bounded tries of the crystal; the chip's own oscillator is up to 1 % off.
  at(kRccControl) = at(kRccControl) | (1u << 16);
  for (uint32_t i = 0; i < 100000; i++) {
    if (at(kRccControl) & (1u << 17)) {
      at(kRccConfig) = (at(kRccConfig) & ~3u) | 1u;
      break;
    }
  }
  at(kTickReload) = kTickMask;
  at(kTickNow) = 0;
  at(kTickControl) = 5;  // runs at the processor's clock, without interrupts
}

void start_pins() {
  at(kRccEnable2) = at(kRccEnable2) | (1u << 2) | (1u << 4) | (1u << 14);  // ports A and C, USART1
  at(kPortASet) = (kHalfPress | kRelease) << 16;
  at(kPortCSet) = kLamp;
  at(kPortALow) = (at(kPortALow) & ~0xffu) | 0x22u;         // outputs, 2 MHz
  at(kPortAOut) = at(kPortAOut) | (1u << 10);               // a pull-up on RXD
  at(kPortAHigh) = (at(kPortAHigh) & ~0xff0u) | 0x8b0u;     // TXD, RXD
  at(kPortCHigh) = (at(kPortCHigh) & ~0xf00000u) | 0x200000u;
}

void start_uart() {
  at(kUartRate) = (kClockHz + kBaud / 2) / kBaud;
  at(kUartControl) = (1u << 13) | (1u << 5) | (1u << 3) | (1u << 2);
  at(kInterruptsOn1) = 1u << (37 - 32);
}

// A quarter of a second of the 40 kHz oscillator; once started it cannot be stopped.
void start_watchdog() {
  at(kDogKey) = 0xcccc;
  at(kDogKey) = 0x5555;
  at(kDogDivider) = 1;
  at(kDogReload) = 1250;
  at(kDogKey) = 0xaaaa;
}

}  // namespace

// The loops that the compiler may make of copying and clearing; it must not make them call
// themselves, so they go through volatile.
extern "C" void* memcpy(void* to, const void* from, size_t count) {
  volatile char* t = static_cast<volatile char*>(to);
  const char* f = static_cast<const char*>(from);
  for (size_t i = 0; i < count; i++) {
    t[i] = f[i];
  }
  return to;
}

extern "C" void* memmove(void* to, const void* from, size_t count) {
  if (to <= from) {
    return memcpy(to, from, count);
  }
  volatile char* t = static_cast<volatile char*>(to);
  const char* f = static_cast<const char*>(from);
  for (size_t i = count; i > 0; i--) {
    t[i - 1] = f[i - 1];
  }
  return to;
}

extern "C" void* memset(void* to, int value, size_t count) {
  volatile char* t = static_cast<volatile char*>(to);
  for (size_t i = 0; i < count; i++) {
    t[i] = static_cast<char>(value);
  }
  return to;
}

extern "C" void uart_interrupt() {
  uint32_t state = at(kUartState);
  uint8_t byte = static_cast<uint8_t>(at(kUartByte));  // clears the faults as well
  if ((state & 0xfu) || queue_in - queue_out == kQueueBytes) {
    faulty = true;
  } else if (state & (1u << 5)) {
    queue[queue_in % kQueueBytes] = byte;
    queue_in = queue_in + 1;
  }
}

// Any fault of the processor: open the contacts and let the watchdog reset.
extern "C" void halt() {
  at(kPortASet) = (kHalfPress | kRelease) << 16;
  for (;;) {
  }
}

extern "C" {
extern uint32_t data_load, data_start, data_end, bss_start, bss_end, stack_top;
typedef void (*Function)();
extern Function constructors_start, constructors_end;
}

extern "C" void reset() {
  const uint32_t* from = &data_load;
  for (uint32_t* to = &data_start; to < &data_end;) {
    *to++ = *from++;
  }
  for (uint32_t* to = &bss_start; to < &bss_end;) {
    *to++ = 0;
  }
  for (Function* each = &constructors_start; each < &constructors_end; each++) {
    (*each)();
  }
  start_clock();
  start_pins();
  core.start(micros());
  start_uart();
  start_watchdog();
  for (;;) {
    if (faulty) {
      faulty = false;
      core.line_fault(micros());
    }
    for (uint32_t i = 0; i < kBytesPerRound && queue_in != queue_out; i++) {
      uint8_t byte = queue[queue_out % kQueueBytes];
      queue_out = queue_out + 1;
      core.receive(byte, micros());
    }
    core.poll(micros());
  }
}

// The table that the processor starts from: stack, reset, faults, and interrupt 37.
struct Vectors {
  uint32_t* stack;
  Function handlers[15 + 38];
};

extern "C" const Vectors vectors __attribute__((used, section(".vectors"))) = {
    &stack_top,
    {reset, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt,
     halt,  halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt,
     halt,  halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt, halt,
     halt,  halt, halt, halt, halt, halt, halt, uart_interrupt}};
