// The core as a device on a real serial line: device PORT contact|protocol. Tells every change of a
// contact and of the line on standard output. When the line goes away it waits for it to come back,
// as a board with a supply of its own would. Ends when standard input does.

#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <poll.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

#include "trigger_core.h"

namespace {

const int kTickMillis = 1;
const int kReopenMillis = 20;

int port = -1;
bool half = false;
bool release = false;
// The moment that the core was last told. The contacts' changes are told with it: a machine that
// stops this process between the clock and the contact would make an exposure look shorter.
uint32_t now = 0;

uint32_t micros() {
  timespec time;
  clock_gettime(CLOCK_MONOTONIC, &time);
  now = static_cast<uint32_t>(static_cast<uint64_t>(time.tv_sec) * 1000000u +
                              static_cast<uint64_t>(time.tv_nsec) / 1000u);
  return now;
}

void tell(const char* what) {
  std::printf("%u %s\n", static_cast<unsigned>(now), what);
  std::fflush(stdout);
}

void set_half_press(void*, bool closed) {
  if (closed != half) {
    half = closed;
    tell(closed ? "half-press closed" : "half-press open");
  }
}

void set_release(void*, bool closed) {
  if (closed != release) {
    release = closed;
    tell(closed ? "release closed" : "release open");
  }
}

bool write_byte(void*, uint8_t byte) {
  // What nobody can hear any more counts as said.
  return port < 0 || write(port, &byte, 1) == 1 || (errno != EAGAIN && errno != EINTR);
}

void feed_watchdog(void*) {}

bool open_port(const char* path) {
  port = open(path, O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
  if (port < 0) {
    return false;
  }
  termios line;
  if (tcgetattr(port, &line) == 0) {
    cfmakeraw(&line);
    tcsetattr(port, TCSANOW, &line);
  }
  return true;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    return 2;
  }
  scenespan::Hardware hardware = {nullptr, set_half_press, set_release, write_byte, feed_watchdog};
  bool whole = std::strcmp(argv[2], "protocol") == 0;
  scenespan::TriggerCore core(hardware,
                              whole ? scenespan::kProtocolLimits : scenespan::kContactLimits);
  core.start(micros());
  for (;;) {
    if (port < 0 && open_port(argv[1])) {
      tell("line up");
    }
    pollfd watched[] = {{STDIN_FILENO, POLLIN, 0}, {port, POLLIN, 0}};
    poll(watched, 2, port < 0 ? kReopenMillis : kTickMillis);
    uint8_t bytes[64];
    if (watched[0].revents != 0 && read(STDIN_FILENO, bytes, sizeof bytes) <= 0) {
      return 0;
    }
    if (port >= 0 && watched[1].revents != 0) {
      ssize_t count = read(port, bytes, sizeof bytes);
      for (ssize_t i = 0; i < count; i++) {
        core.receive(bytes[i], micros());
        core.poll(micros());
      }
      if (count == 0 || (count < 0 && errno != EAGAIN && errno != EINTR)) {
        core.line_lost(micros());
        close(port);
        port = -1;
        tell("line lost");
      }
    }
    core.poll(micros());
  }
}
