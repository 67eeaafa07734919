// The 8-bit board's program on a simulated chip, its USART on a real serial line:
// avr_chip PROGRAM.bin PORT. Tells every change of a contact on standard output, with the chip's own
// time in microseconds, and when its USART begins to listen: bytes before that are lost, as on a
// chip. The chip runs at most as fast as a real one, so that a line at 115200 baud
// is one. "hang" on standard input lets its program stand still, as a fault in it would. Ends when
// standard input does.

#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fcntl.h>
#include <poll.h>
#include <string>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include <vector>

extern "C" {
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_io.h>
}

namespace {

const uint32_t kClockHz = 16000000;
const uint64_t kSliceCycles = kClockHz / 1000;

// Where the data sheet of the chip has them, in data space.
const size_t kMcuState = 0x54, kDirectionD = 0x2a, kPortD = 0x2b, kUsartControl = 0xc1;
const uint8_t kWatchdogReset = 1 << 3, kReceiverOn = 1 << 4;

avr_t* chip = nullptr;
int port = -1;
bool may_send = true;
bool listens = false;
uint8_t contacts = 0;

uint64_t now_us() {
  timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return static_cast<uint64_t>(now.tv_sec) * 1000000u + static_cast<uint64_t>(now.tv_nsec) / 1000u;
}

void tell(const char* what) {
  std::printf("%u %s\n", static_cast<unsigned>(chip->cycle / (kClockHz / 1000000)), what);
  std::fflush(stdout);
}

void heard(avr_irq_t*, uint32_t value, void*) {
  uint8_t byte = static_cast<uint8_t>(value);
  while (write(port, &byte, 1) < 0 && errno == EINTR) {
  }
}

void may(avr_irq_t*, uint32_t, void*) { may_send = true; }

void may_not(avr_irq_t*, uint32_t, void*) { may_send = false; }

avr_irq_t* usart(int which) {
  return avr_io_getirq(chip, AVR_IOCTL_UART_GETIRQ('0'), which);
}

// A contact is closed by a pin that is an output and high.
void look_at_the_contacts() {
  uint8_t closed = static_cast<uint8_t>(chip->data[kDirectionD] & chip->data[kPortD] & 0x0c);
  uint8_t changed = static_cast<uint8_t>(closed ^ contacts);
  contacts = closed;
  // The release opens before the half-press and closes after it.
  if ((changed & 4) && (closed & 4)) {
    tell("half-press closed");
  }
  if (changed & 8) {
    tell((closed & 8) ? "release closed" : "release open");
  }
  if ((changed & 4) && !(closed & 4)) {
    tell("half-press open");
  }
}

void look_at_the_receiver() {
  bool on = (chip->data[kUsartControl] & kReceiverOn) != 0;
  if (on && !listens) {
    may_send = true;
    tell("listens");
  }
  listens = on;
}

std::vector<uint8_t> content(const char* path) {
  std::vector<uint8_t> bytes;
  FILE* file = std::fopen(path, "rb");
  if (file != nullptr) {
    uint8_t some[4096];
    for (size_t count; (count = std::fread(some, 1, sizeof some, file)) > 0;) {
      bytes.insert(bytes.end(), some, some + count);
    }
    std::fclose(file);
  }
  return bytes;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) {
    return 2;
  }
  std::vector<uint8_t> program = content(argv[1]);
  chip = avr_make_mcu_by_name("atmega328p");
  port = open(argv[2], O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (program.empty() || chip == nullptr || port < 0) {
    std::printf("0 nothing to start with\n");
    return 2;
  }
  termios line;
  if (tcgetattr(port, &line) == 0) {
    cfmakeraw(&line);
    tcsetattr(port, TCSANOW, &line);
  }
  avr_init(chip);
  chip->frequency = kClockHz;
  chip->log = LOG_ERROR;
  // Behind the program a jump to itself.
  avr_flashaddr_t trap = static_cast<avr_flashaddr_t>((program.size() + 1) & ~size_t{1});
  program.resize(trap);
  program.push_back(0xff);
  program.push_back(0xcf);
  avr_loadcode(chip, program.data(), static_cast<uint32_t>(program.size()), 0);
  chip->codeend = chip->flashend;
  uint32_t flags = 0;
  avr_ioctl(chip, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
  avr_irq_t* to_chip = usart(UART_IRQ_INPUT);
  avr_irq_register_notify(usart(UART_IRQ_OUTPUT), heard, nullptr);
  avr_irq_register_notify(usart(UART_IRQ_OUT_XON), may, nullptr);
  avr_irq_register_notify(usart(UART_IRQ_OUT_XOFF), may_not, nullptr);
  tell("line up");

  std::string command;
  uint64_t began_us = now_us();
  for (uint64_t slice = 1;; slice++) {
    uint64_t end = slice * kSliceCycles;
    while (chip->cycle < end) {
      uint64_t before = chip->cycle;
      avr_flashaddr_t from = chip->pc;
      int state = avr_run(chip);
      if (state == cpu_Done || state == cpu_Crashed) {
        tell("crashed");
        return 1;
      }
      look_at_the_contacts();
      if (chip->pc == 0 && from != 0 && chip->cycle <= before + 4) {
        tell((chip->data[kMcuState] & kWatchdogReset) ? "reset by the watchdog" : "reset");
      }
      look_at_the_receiver();
    }
    uint64_t due_us = began_us + end / (kClockHz / 1000000);
    uint64_t at_us = now_us();
    int wait = due_us > at_us + 1000 ? static_cast<int>((due_us - at_us) / 1000) : 0;
    pollfd watched[] = {{STDIN_FILENO, POLLIN, 0}, {port, POLLIN, 0}};
    poll(watched, 2, 0);
    if (watched[0].revents != 0) {
      char words[16];
      ssize_t count = read(STDIN_FILENO, words, sizeof words);
      if (count <= 0) {
        return 0;
      }
      command.append(words, static_cast<size_t>(count));
      if (command == "hang\n") {
        command.clear();
        tell("hangs");
        chip->pc = trap;
      }
    }
    // Eleven bytes a millisecond are what the line carries.
    for (int i = 0; i < 11 && may_send && (watched[1].revents & POLLIN); i++) {
      uint8_t byte;
      if (read(port, &byte, 1) == 1) {
        avr_raise_irq(to_chip, byte);
      }
      poll(watched + 1, 1, 0);
    }
    if (wait > 0) {
      poll(nullptr, 0, wait);
    }
  }
}
