// The device side of docs/line-protocol.md for a bare contact closer, as a machine that is stepped:
// bytes and the time go in, contacts and bytes come out. C++11 without heap, exceptions, RTTI,
// floating point or any call of a platform; all memory lies in the object, about 0.7 KB.
//
// Fail-safe: both contacts open at start, on garbage or a faulty line while an exposure is pending,
// when the line is lost, when the host's heartbeat stays away, when they were closed for longer than
// the longest that is allowed, and when the clock stands still.

#ifndef SCENESPAN_TRIGGER_CORE_H
#define SCENESPAN_TRIGGER_CORE_H

#include <stddef.h>
#include <stdint.h>

namespace scenespan {

// What the core asks of a board. None may block, and none may be null.
struct Hardware {
  void* context;  // handed back in each call
  void (*set_half_press)(void* context, bool closed);
  void (*set_release)(void* context, bool closed);
  // Takes one byte for the host; false if there is no room now, then it is offered again.
  bool (*write)(void* context, uint8_t byte);
  // Called at the end of every poll: a board's watchdog is fed here and nowhere else.
  void (*feed_watchdog)(void* context);
};

// Times in microseconds, each below 2^31, so that a wrapped clock cannot be misread.
struct Limits {
  uint32_t shortest_us;    // the shortest exposure that may be set
  uint32_t longest_us;     // the longest exposure that may be set
  uint32_t reset_us;       // the exposure after *RST
  uint32_t half_press_us;  // the half-press goes this long before the release
  uint32_t guard_us;       // no contact stays closed for longer, whatever else was commanded
};

// What a contact and a camera on bulb can do: a tenth of a second to half an hour.
constexpr Limits kContactLimits = {100000u, 1800000000u, 1000000u, 100000u, 1805000000u};

// The ranges of the whole protocol, 1/8192 s to 32 s: to try a host program against the core.
constexpr Limits kProtocolLimits = {122u, 32000000u, 7813u, 0u, 34000000u};

class TriggerCore {
 public:
  static constexpr size_t kLongestLine = 256;  // bytes without the LF, by the protocol
  static constexpr uint8_t kMostErrors = 20;   // by the protocol

  // Both are copied.
  TriggerCore(const Hardware& hardware, const Limits& limits);

  // Opens the contacts: to be called first of all after power-on. Times are the board's free-running
  // 32-bit count of microseconds, which may wrap but must not go back.
  void start(uint32_t now_us);

  // Takes one byte from the host. Nothing is carried out before the next poll.
  void receive(uint8_t byte, uint32_t now_us);

  // A byte came in broken: framing, parity, break, or the board's own buffer was full.
  void line_fault(uint32_t now_us);

  // Nobody is at the other end any more: carrier or bus lost. Whatever was said is forgotten.
  void line_lost(uint32_t now_us);

  // Moves on; to be called again and again, for an exposure's end is as exact as this is frequent.
  // Does at most one command.
  void poll(uint32_t now_us);

  bool is_exposing() const { return phase_ != Phase::kIdle; }

 private:
  enum class Phase : uint8_t { kIdle, kHalfPressed, kReleased };
  enum class Skip : uint8_t { kNothing, kTooLong, kDropped };
  enum class Branch : uint8_t { kRoot, kSystem, kExposure, kTrigger, kMeter, kNone };
  enum class Error : uint8_t {
    kNone,
    kMissingParameter,
    kUndefinedHeader,
    kInitIgnored,
    kOutOfRange,
    kIllegalValue,
    kHardware,
    kHardwareMissing,
    kSystem,
    kOverflow,
    kCommunication,
    kInputOverrun,
    kTimeOut
  };
  enum class Action : uint8_t;
  struct Command;
  struct Number;
  struct Text {
    const char* at;
    size_t length;
  };

  static const Command kCommands[];

  // One line in work, at least another behind it.
  static constexpr size_t kBufferBytes = 2 * kLongestLine;
  static constexpr size_t kOutputBytes = 128;
  // More than any answer of one command, with what parts it from its neighbours.
  static constexpr size_t kLongestReply = 48;

  void open_contacts();
  void abort_exposure(Error error);
  void watch(uint32_t now_us);
  void end_line();
  void take(char character);
  void obey(uint32_t now_us);
  void finish_line(size_t bytes);
  void perform(Action action, Text parameter, uint32_t now_us);
  void perform_set(Action action, const Number& number, uint32_t now_us);
  void set_time(const Number& number);
  void set_heartbeat(const Number& number);
  void release(const Number& number, uint32_t now_us);
  const Command* find(Text header, Branch& branch) const;
  static bool matches(Text given, const char* pattern);
  static bool parse(Text text, Number& number);

  void add_error(Error error);
  Error take_error();
  void reply(const char* text);
  void reply_decimal(uint32_t value, uint8_t decimals);
  void put(char character);
  void flush();

  Hardware hardware_;
  Limits limits_;

  Phase phase_ = Phase::kIdle;
  uint32_t closed_at_us_ = 0;    // when the first contact closed
  uint32_t phase_at_us_ = 0;     // when the phase began
  uint32_t heard_at_us_ = 0;     // when the host last gave a sign of life
  uint32_t polled_at_us_ = 0;
  uint16_t polls_at_once_ = 0;   // polls in which the clock stood still
  uint32_t pending_us_ = 0;      // the pending exposure, its heartbeat and its number
  uint32_t pending_beat_us_ = 0;
  uint32_t pending_shot_ = 0;

  uint32_t time_us_;
  uint32_t heartbeat_us_ = 0;    // 0: none is asked for
  uint32_t iso_ = 100;
  uint32_t aperture_ = 800;      // hundredths of the f-number
  uint32_t last_shot_ = 0;

  // Whole lines, each with its LF, and then the beginning of one.
  char buffer_[kBufferBytes];
  size_t used_ = 0;
  size_t whole_ = 0;             // bytes of whole lines
  size_t cursor_ = 0;            // how much of the first line is done
  bool blank_ = true;            // the line that is coming in says nothing yet
  Skip skip_ = Skip::kNothing;
  Branch path_ = Branch::kRoot;
  bool reply_open_ = false;      // a reply line has begun
  bool waiting_ = false;         // the next command waits for the exposure's end

  Error errors_[kMostErrors];
  uint8_t error_count_ = 0;

  char output_[kOutputBytes];
  size_t output_from_ = 0;
  size_t output_count_ = 0;
};

}  // namespace scenespan

#endif
