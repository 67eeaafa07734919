// The core on a bench with a clock of its own: reads steps from standard input, repeats each and
// writes what the device does. Steps:
//   > text     a line from the host, with its LF; then the device has time to obey
//   bytes HEX  bytes from the host, without an LF
//   blanks N   so many blanks from the host, without an LF
//   wait MS    milliseconds pass, with a poll in each
//   jump MS    milliseconds pass without a poll
//   still N    N polls while the clock stands still
//   fault      a byte came in broken
//   lost       the line is gone
//   deaf, hear the host stops reading, and reads again

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "trigger_core.h"

namespace {

// Soon before the 32-bit clock wraps, so that every script sees it do so.
const uint32_t kStartUs = 0xffffffffu - 700000u;

// Enough for every command of the longest line.
const int kPollsPerLine = 300;

uint32_t now_us = kStartUs;
bool deaf = false;
char line[4096];
size_t length = 0;

void tell(const char* contact, bool closed) {
  std::printf("%s %s at %u\n", contact, closed ? "closed" : "open",
              static_cast<unsigned>((now_us - kStartUs) / 1000));
}

bool half = false;
bool release = false;

void set_half_press(void*, bool closed) {
  if (closed != half) {
    half = closed;
    tell("half-press", closed);
  }
}

void set_release(void*, bool closed) {
  if (closed != release) {
    release = closed;
    tell("release", closed);
  }
}

bool write(void*, uint8_t byte) {
  if (deaf) {
    return false;
  }
  if (byte == '\n' || length == sizeof line - 1) {
    line[length] = '\0';
    std::printf("< %s\n", line);
    length = 0;
  } else {
    line[length++] = static_cast<char>(byte);
  }
  return true;
}

void feed_watchdog(void*) {}

void polls(scenespan::TriggerCore& core, long count) {
  for (long i = 0; i < count; i++) {
    core.poll(now_us);
  }
}

}  // namespace

int main(int argc, char** argv) {
  scenespan::Hardware hardware = {nullptr, set_half_press, set_release, write, feed_watchdog};
  bool whole = argc > 1 && std::strcmp(argv[1], "protocol") == 0;
  scenespan::TriggerCore core(hardware,
                              whole ? scenespan::kProtocolLimits : scenespan::kContactLimits);
  core.start(now_us);
  char step[4096];
  while (std::fgets(step, sizeof step, stdin) != nullptr) {
    step[std::strcspn(step, "\n")] = '\0';
    std::printf("%s\n", step);
    if (std::strncmp(step, "> ", 2) == 0) {
      for (const char* at = step + 2; *at != '\0'; at++) {
        core.receive(static_cast<uint8_t>(*at), now_us);
      }
      core.receive('\n', now_us);
      polls(core, kPollsPerLine);
    } else if (std::strncmp(step, "bytes ", 6) == 0) {
      char* at = step + 6;
      for (char* end = at; *at != '\0'; at = end) {
        core.receive(static_cast<uint8_t>(std::strtoul(at, &end, 16)), now_us);
      }
      polls(core, kPollsPerLine);
    } else if (std::strncmp(step, "blanks ", 7) == 0) {
      for (long left = std::atol(step + 7); left > 0; left--) {
        core.receive(' ', now_us);
      }
      polls(core, 1);
    } else if (std::strncmp(step, "wait ", 5) == 0) {
      for (long left = std::atol(step + 5); left > 0; left--) {
        now_us += 1000;
        core.poll(now_us);
      }
      polls(core, kPollsPerLine);
    } else if (std::strncmp(step, "jump ", 5) == 0) {
      now_us += static_cast<uint32_t>(std::atol(step + 5)) * 1000u;
      polls(core, kPollsPerLine);
    } else if (std::strncmp(step, "still ", 6) == 0) {
      polls(core, std::atol(step + 6));
    } else if (std::strcmp(step, "fault") == 0) {
      core.line_fault(now_us);
      polls(core, 1);
    } else if (std::strcmp(step, "lost") == 0) {
      core.line_lost(now_us);
      polls(core, 1);
    } else if (std::strcmp(step, "deaf") == 0) {
      deaf = true;
    } else if (std::strcmp(step, "hear") == 0) {
      deaf = false;
      polls(core, kPollsPerLine);
    } else {
      std::fprintf(stderr, "no such step: %s\n", step);
      return 2;
    }
  }
  std::printf("end\n");
  return 0;
}
