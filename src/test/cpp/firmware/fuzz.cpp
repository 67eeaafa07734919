// Throws bytes, faults and odd times at the core: fuzz SEED BYTES. What must hold after every call:
// no contact is closed beyond the guard, the release is never closed without the half-press,
// nothing is closed after garbage or a lost line, and the watchdog is fed once a poll.

#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "trigger_core.h"

namespace {

const char* const kWords[] = {
    "*IDN?",       "*RST",         "*CLS",          "*OPC?",    "SYST:ERR?",      "SYSTem:ERRor?",
    "EXP:TIME ",   "EXP:TIME?",    "TIME ",         "ISO 400",  "EXPosure:ISO? ", "APER 5.6",
    "EXP:APER?",   "TRIG:REL ",    "TRIG:REL 7",    ":TRIG:REL 12345\n", "TRIG:DONE?", "DONE?",
    "MET:EV?",     "SYST:HEAR 0.2", "SYST:HEAR 0",  ";",        ":",              "\n",
    "\n",          "\n",           "\r\n",          " ",        "\t",             "0.2",
    "1e-1",        "-1",           "1e999",         "0.15",     "99999999999999", "0.000001",
    "EXP:TIME 0.2;:TRIG:REL 3\n",  "EXP:TIME 1.5;:TRIG:REL 4;:TRIG:DONE?\n"};
const uint32_t kWordCount = sizeof kWords / sizeof kWords[0];

const scenespan::Limits kLimits = {100000u, 2000000u, 500000u, 50000u, 2100000u};

uint64_t state;
uint32_t now_us;
bool half = false;
bool release = false;
uint32_t closed_at_us;
uint32_t last_step_us;
uint64_t releases;
uint64_t fed;
bool host_reads = true;

// Marsaglia, "Xorshift RNGs", 2003, with the shifts 13, 7, 17.
uint32_t chance(uint32_t bound) {
  state ^= state << 13;
  state ^= state >> 7;
  state ^= state << 17;
  return static_cast<uint32_t>((state >> 32) % bound);
}

void require(bool holds, const char* what) {
  if (!holds) {
    std::printf("broken at %u us: %s\n", static_cast<unsigned>(now_us), what);
    std::exit(1);
  }
}

void set_half_press(void*, bool closed) {
  if (closed && !half) {
    closed_at_us = now_us;
  }
  half = closed;
}

void set_release(void*, bool closed) {
  require(!closed || half, "the release closes without the half-press");
  releases += closed && !release ? 1 : 0;
  release = closed;
}

bool write(void*, uint8_t byte) {
  require(byte == '\n' || (byte >= ' ' && byte < 0x7f), "a reply is not text");
  return host_reads && chance(4) > 0;
}

void feed_watchdog(void*) { fed++; }

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    return 2;
  }
  state = std::strtoull(argv[1], nullptr, 10) * 0x9e3779b97f4a7c15u + 1;
  uint64_t bytes = std::strtoull(argv[2], nullptr, 10);
  now_us = chance(0xffffffffu);
  scenespan::Hardware hardware = {nullptr, set_half_press, set_release, write, feed_watchdog};
  scenespan::TriggerCore core(hardware, kLimits);
  core.start(now_us);
  uint64_t polls = 0;
  bool noisy = false;
  for (uint64_t done = 0; done < bytes;) {
    if (chance(2000) == 0) {
      noisy = !noisy;
    }
    if (chance(500) == 0) {
      host_reads = !host_reads;
    }
    uint32_t kind = chance(100);
    if (kind < 40) {
      const char* word = kWords[chance(kWordCount)];
      for (; *word != '\0'; word++, done++) {
        bool flipped = noisy && chance(50) == 0;
        uint8_t byte = static_cast<uint8_t>(flipped ? chance(256) : static_cast<uint8_t>(*word));
        core.receive(byte, now_us);
        if (byte != '\n' && byte != '\t' && byte != '\r' && (byte < ' ' || byte > '~')) {
          require(!half && !release, "a contact is closed after garbage");
        }
      }
    } else if (kind < 45 && noisy) {
      for (uint32_t left = chance(600); left > 0; left--, done++) {
        core.receive(static_cast<uint8_t>(chance(256)), now_us);
      }
    } else if (kind < 46 && noisy) {
      core.line_fault(now_us);
      require(!half && !release, "a contact is closed after a fault");
    } else if (kind == 46 && chance(20) == 0) {
      core.line_lost(now_us);
      require(!half && !release, "a contact is closed after the line was lost");
    } else {
      // Mostly short steps; now and then a board that was held up.
      last_step_us = chance(50) == 0 ? chance(3000000) : chance(20000);
      now_us += last_step_us;
      core.poll(now_us);
      polls++;
      require(fed == polls, "the watchdog is not fed once a poll");
    }
    require(!half || now_us - closed_at_us < kLimits.guard_us, "a contact is closed for too long");
    require(!release || half, "the release is closed without the half-press");
    require(core.is_exposing() == half, "a contact and the exposure do not agree");
  }
  std::printf("held: %llu bytes, %llu polls, %llu releases\n",
              static_cast<unsigned long long>(bytes), static_cast<unsigned long long>(polls),
              static_cast<unsigned long long>(releases));
  return releases > 0 ? 0 : 1;
}
