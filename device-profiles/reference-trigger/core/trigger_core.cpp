#include "trigger_core.h"

namespace scenespan {

namespace {

// Stands, in its place among the others, for a line that was too long; no byte from the host gets
// into the buffer as this one.
constexpr char kOverrunMark = '\x01';

// Stands for a byte that is no text: no header and no number holds it.
constexpr char kNoText = '!';

constexpr uint32_t kLargestShot = 999999999u;
constexpr uint32_t kLongestBeatUs = 60000000u;
constexpr uint32_t kShortestBeatUs = 100000u;
constexpr uint32_t kLongestTimeUs = 0x7fffffffu;

// With the thousandth to spare it stays below the limit above.
constexpr uint32_t kLongestExposureUs = 2100000000u;

// A clock that shows the same time in so many polls stands still.
constexpr uint16_t kMostPollsAtOnce = 60000;

const char* const kIdentity = "SCENESPAN,CONTACT TRIGGER,0,1.0";

// SCPI-1999's "not a number", volume 1, 7.2.1.5 [memory].
const char* const kNotANumber = "9.91E37";

// In the order of the enumeration (SCPI-1999, volume 2, chapter 21).
const char* const kErrorTexts[] = {
    "0,\"No error\"",
    "-109,\"Missing parameter\"",
    "-113,\"Undefined header\"",
    "-213,\"Init ignored\"",
    "-222,\"Data out of range\"",
    "-224,\"Illegal parameter value\"",
    "-240,\"Hardware error\"",
    "-241,\"Hardware missing\"",
    "-310,\"System error\"",
    "-350,\"Queue overflow\"",
    "-360,\"Communication error\"",
    "-363,\"Input buffer overrun\"",
    "-365,\"Time out error\"",
};

// The first mnemonics, in the order of the enumeration; capitals are the short form.
const char* const kBranches[] = {"", "SYSTem", "EXPosure", "TRIGger", "METer"};
constexpr uint8_t kBranchCount = 5;

bool is_blank(char c) { return c == ' '; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_lower(char c) { return c >= 'a' && c <= 'z'; }
char upper(char c) { return is_lower(c) ? static_cast<char>(c - 'a' + 'A') : c; }

uint32_t at_most(uint32_t value, uint32_t most) { return value < most ? value : most; }

}  // namespace

enum class TriggerCore::Action : uint8_t {
  kIdentity,
  kReset,
  kClear,
  kOperationComplete,
  kNextError,
  kSetHeartbeat,
  kHeartbeat,
  kSetTime,
  kTime,
  kSetIso,
  kIso,
  kSetAperture,
  kAperture,
  kRelease,
  kDone,
  kMeter
};

struct TriggerCore::Command {
  Branch branch;
  const char* mnemonic;
  Action action;
  bool takes_number;
  bool waits;  // for the end of a pending exposure
};

const TriggerCore::Command TriggerCore::kCommands[] = {
    {Branch::kNone, "*IDN?", Action::kIdentity, false, false},
    {Branch::kNone, "*RST", Action::kReset, false, false},
    {Branch::kNone, "*CLS", Action::kClear, false, false},
    {Branch::kNone, "*OPC?", Action::kOperationComplete, false, true},
    {Branch::kSystem, "ERRor?", Action::kNextError, false, false},
    {Branch::kSystem, "HEARtbeat", Action::kSetHeartbeat, true, false},
    {Branch::kSystem, "HEARtbeat?", Action::kHeartbeat, false, false},
    {Branch::kExposure, "TIME", Action::kSetTime, true, false},
    {Branch::kExposure, "TIME?", Action::kTime, false, false},
    {Branch::kExposure, "ISO", Action::kSetIso, true, false},
    {Branch::kExposure, "ISO?", Action::kIso, false, false},
    {Branch::kExposure, "APERture", Action::kSetAperture, true, false},
    {Branch::kExposure, "APERture?", Action::kAperture, false, false},
    {Branch::kTrigger, "RELease", Action::kRelease, true, false},
    {Branch::kTrigger, "DONE?", Action::kDone, false, true},
    {Branch::kMeter, "EV?", Action::kMeter, false, false},
};

// A decimal as it was written: nine digits and a power of ten, and whether more digits followed.
struct TriggerCore::Number {
  bool negative;
  uint32_t digits;
  int16_t exponent;
  bool more;

  // How many units of 10^-decimals there are, cut off or rounded half up; all ones if too many.
  // Sets whole to whether nothing was cut off.
  uint32_t scaled(uint8_t decimals, bool round, bool& whole) const {
    uint32_t value = digits;
    int16_t left = static_cast<int16_t>(exponent + decimals);
    bool exact = !more;
    uint8_t cut = 0;
    for (; left > 0 && value > 0; left--) {
      if (value > 0xffffffffu / 10) {
        whole = true;
        return 0xffffffffu;
      }
      value *= 10;
    }
    for (; left < 0 && (value > 0 || cut > 0); left++) {
      exact = exact && cut == 0;
      cut = static_cast<uint8_t>(value % 10);
      value /= 10;
    }
    whole = exact && cut == 0;
    return round && cut >= 5 ? value + 1 : value;
  }
};

TriggerCore::TriggerCore(const Hardware& hardware, const Limits& limits)
    : hardware_(hardware), limits_(limits), time_us_(limits.reset_us) {
  limits_.longest_us = at_most(limits.longest_us, kLongestExposureUs);
  limits_.guard_us = at_most(limits.guard_us, kLongestTimeUs);
  limits_.half_press_us = at_most(limits.half_press_us, kLongestTimeUs);
}

void TriggerCore::start(uint32_t now_us) {
  open_contacts();
  heard_at_us_ = now_us;
  polled_at_us_ = now_us;
}

// The contacts.

void TriggerCore::open_contacts() {
  hardware_.set_release(hardware_.context, false);
  hardware_.set_half_press(hardware_.context, false);
  phase_ = Phase::kIdle;
}

// Ends an exposure that went wrong. What waits behind it is forgotten: it was said by a host that
// took it for going well, and may be the next release.
void TriggerCore::abort_exposure(Error error) {
  open_contacts();
  if (used_ > whole_ || skip_ != Skip::kNothing) {
    skip_ = Skip::kDropped;
  }
  used_ = 0;
  whole_ = 0;
  cursor_ = 0;
  blank_ = true;
  path_ = Branch::kRoot;
  if (reply_open_) {
    put('\n');
    reply_open_ = false;
  }
  add_error(error);
}

void TriggerCore::watch(uint32_t now_us) {
  polls_at_once_ =
      now_us == polled_at_us_ ? static_cast<uint16_t>(polls_at_once_ + 1) : uint16_t{0};
  polled_at_us_ = now_us;
  if (phase_ == Phase::kIdle) {
    polls_at_once_ = 0;
    return;
  }
  if (polls_at_once_ > kMostPollsAtOnce) {
    abort_exposure(Error::kHardware);
  } else if (now_us - closed_at_us_ >= limits_.guard_us) {
    abort_exposure(Error::kSystem);
  } else if (phase_ == Phase::kReleased && now_us - phase_at_us_ >= pending_us_) {
    open_contacts();
    last_shot_ = pending_shot_;
  } else if (pending_beat_us_ > 0 && now_us - heard_at_us_ >= pending_beat_us_) {
    abort_exposure(Error::kTimeOut);
  } else if (phase_ == Phase::kHalfPressed && now_us - phase_at_us_ >= limits_.half_press_us) {
    phase_ = Phase::kReleased;
    phase_at_us_ = now_us;
    hardware_.set_release(hardware_.context, true);
  }
}

void TriggerCore::poll(uint32_t now_us) {
  watch(now_us);
  obey(now_us);
  flush();
  hardware_.feed_watchdog(hardware_.context);
}

// What comes in.

void TriggerCore::receive(uint8_t byte, uint32_t now_us) {
  heard_at_us_ = now_us;
  if (byte == '\n') {
    end_line();
  } else if (byte == ' ' || byte == '\t' || byte == '\r') {
    take(' ');
  } else if (byte > ' ' && byte < 0x7f) {
    take(static_cast<char>(byte));
  } else {
    line_fault(now_us);
  }
}

void TriggerCore::line_fault(uint32_t) {
  // It is no sign of life: noise on an open line is not a host.
  if (is_exposing()) {
    abort_exposure(Error::kCommunication);
    skip_ = Skip::kDropped;
  } else {
    take(kNoText);
  }
}

void TriggerCore::line_lost(uint32_t) {
  if (is_exposing()) {
    abort_exposure(Error::kCommunication);
  }
  used_ = 0;
  whole_ = 0;
  cursor_ = 0;
  blank_ = true;
  skip_ = Skip::kNothing;
  path_ = Branch::kRoot;
  reply_open_ = false;
  output_count_ = 0;
}

void TriggerCore::take(char character) {
  if (skip_ != Skip::kNothing) {
    return;
  }
  if (used_ - whole_ == kLongestLine) {
    if (is_exposing()) {
      abort_exposure(Error::kCommunication);
      skip_ = Skip::kDropped;
    } else {
      used_ = whole_;
      skip_ = Skip::kTooLong;
    }
  } else if (used_ + 1 >= kBufferBytes) {
    // Lines that wait have filled it; the last byte is kept for a line's end.
    used_ = whole_;
    skip_ = Skip::kDropped;
    add_error(Error::kInputOverrun);
  } else {
    buffer_[used_++] = character;
    blank_ = blank_ && (is_blank(character) || character == ';');
  }
}

void TriggerCore::end_line() {
  Skip skipped = skip_;
  skip_ = Skip::kNothing;
  if (skipped == Skip::kTooLong) {
    // In its place, behind the lines before it. There is room: what was thrown away had some.
    buffer_[used_++] = kOverrunMark;
    blank_ = false;
  }
  if (blank_ || used_ == whole_) {
    used_ = whole_;  // It says nothing: heartbeats need no room.
  } else {
    buffer_[used_++] = '\n';
    whole_ = used_;
  }
  blank_ = true;
}

// What is carried out.

void TriggerCore::obey(uint32_t now_us) {
  // A host that does not read what it asked for is not obeyed any further; the exposure's end does
  // not wait for it.
  if (whole_ == 0 || kOutputBytes - output_count_ < kLongestReply ||
      (waiting_ && is_exposing())) {
    return;
  }
  waiting_ = false;
  size_t end = cursor_;
  while (buffer_[end] != ';' && buffer_[end] != '\n') {
    end++;
  }
  size_t from = cursor_;
  size_t to = end;
  while (from < to && is_blank(buffer_[from])) {
    from++;
  }
  while (to > from && is_blank(buffer_[to - 1])) {
    to--;
  }
  if (from < to) {
    size_t space = from;
    while (space < to && !is_blank(buffer_[space])) {
      space++;
    }
    Text header = {buffer_ + from, space - from};
    while (space < to && is_blank(buffer_[space])) {
      space++;
    }
    Text parameter = {buffer_ + space, to - space};
    Branch branch = path_;
    const Command* command = find(header, branch);
    if (buffer_[from] == kOverrunMark) {
      add_error(Error::kInputOverrun);
    } else if (command == nullptr) {
      add_error(Error::kUndefinedHeader);
    } else if (command->waits && is_exposing()) {
      waiting_ = true;
      return;
    } else {
      path_ = branch;
      Number number;
      if (!command->takes_number) {
        perform(command->action, parameter, now_us);
      } else if (parameter.length == 0) {
        add_error(Error::kMissingParameter);
      } else if (!parse(parameter, number)) {
        add_error(Error::kIllegalValue);
      } else {
        perform_set(command->action, number, now_us);
      }
    }
  }
  cursor_ = end + 1;
  if (buffer_[end] == '\n') {
    finish_line(end + 1);
  }
}

void TriggerCore::finish_line(size_t bytes) {
  if (reply_open_) {
    put('\n');
    reply_open_ = false;
  }
  for (size_t i = bytes; i < used_; i++) {
    buffer_[i - bytes] = buffer_[i];
  }
  used_ -= bytes;
  whole_ -= bytes;
  cursor_ = 0;
  path_ = Branch::kRoot;
}

// The command of a header, and the path it leaves in force.
const TriggerCore::Command* TriggerCore::find(Text header, Branch& branch) const {
  Branch wanted = path_;
  Text last = header;
  if (header.at[0] == '*') {
    wanted = Branch::kNone;
  } else {
    if (header.at[0] == ':') {
      wanted = Branch::kRoot;
      last.at++;
      last.length--;
    }
    size_t colon = 0;
    while (colon < last.length && last.at[colon] != ':') {
      colon++;
    }
    if (colon < last.length) {
      // No command lies deeper than the second mnemonic.
      if (wanted != Branch::kRoot) {
        return nullptr;
      }
      for (uint8_t i = 1; i < kBranchCount; i++) {
        if (matches(Text{last.at, colon}, kBranches[i])) {
          wanted = static_cast<Branch>(i);
        }
      }
      last.at += colon + 1;
      last.length -= colon + 1;
    }
    branch = wanted;
  }
  if (wanted == Branch::kRoot) {
    return nullptr;
  }
  for (const Command& command : kCommands) {
    if (command.branch == wanted && matches(last, command.mnemonic)) {
      return &command;
    }
  }
  return nullptr;
}

// Long or short form, in any case, nothing in between; a query's mark belongs to both.
bool TriggerCore::matches(Text given, const char* pattern) {
  size_t length = given.length;
  size_t i = 0;
  while (i < length && pattern[i] != '\0' && upper(given.at[i]) == upper(pattern[i])) {
    i++;
  }
  if (!is_lower(pattern[i]) || (i > 0 && is_lower(pattern[i - 1]))) {
    return i == length && pattern[i] == '\0';
  }
  // At the end of the short form.
  const char* rest = pattern + i;
  while (is_lower(*rest)) {
    rest++;
  }
  if (*rest == '?') {
    return i + 1 == length && given.at[i] == '?';
  }
  return i == length;
}

bool TriggerCore::parse(Text text, Number& number) {
  number = Number{false, 0, 0, false};
  size_t i = 0;
  if (i < text.length && (text.at[i] == '+' || text.at[i] == '-')) {
    number.negative = text.at[i] == '-';
    i++;
  }
  bool any = false;
  bool point = false;
  for (; i < text.length && (is_digit(text.at[i]) || (text.at[i] == '.' && !point)); i++) {
    if (text.at[i] == '.') {
      point = true;
      continue;
    }
    any = true;
    uint8_t digit = static_cast<uint8_t>(text.at[i] - '0');
    if (number.digits < 100000000u) {
      number.digits = number.digits * 10 + digit;
      number.exponent = static_cast<int16_t>(number.exponent - (point ? 1 : 0));
    } else {
      number.more = number.more || digit > 0;
      number.exponent = static_cast<int16_t>(number.exponent + (point ? 0 : 1));
    }
  }
  if (!any) {
    return false;
  }
  if (i < text.length && (text.at[i] == 'e' || text.at[i] == 'E')) {
    i++;
    bool down = i < text.length && text.at[i] == '-';
    if (i < text.length && (text.at[i] == '+' || text.at[i] == '-')) {
      i++;
    }
    size_t first = i;
    int16_t power = 0;
    for (; i < text.length && i - first < 3 && is_digit(text.at[i]); i++) {
      power = static_cast<int16_t>(power * 10 + (text.at[i] - '0'));
    }
    if (i == first) {
      return false;
    }
    number.exponent = static_cast<int16_t>(down ? number.exponent - power : number.exponent + power);
  }
  return i == text.length;
}

void TriggerCore::perform(Action action, Text parameter, uint32_t) {
  if (parameter.length > 0) {
    add_error(Error::kIllegalValue);
    return;
  }
  switch (action) {
    case Action::kIdentity:
      reply(kIdentity);
      break;
    case Action::kReset:
      time_us_ = limits_.reset_us;
      iso_ = 100;
      aperture_ = 800;
      heartbeat_us_ = 0;
      break;
    case Action::kClear:
      error_count_ = 0;
      break;
    case Action::kOperationComplete:
      reply("1");
      break;
    case Action::kNextError:
      reply(kErrorTexts[static_cast<uint8_t>(take_error())]);
      break;
    case Action::kHeartbeat:
      reply_decimal(heartbeat_us_, 6);
      break;
    case Action::kTime:
      reply_decimal(time_us_, 6);
      break;
    case Action::kIso:
      reply_decimal(iso_, 0);
      break;
    case Action::kAperture:
      reply_decimal(aperture_, 2);
      break;
    case Action::kDone:
      reply_decimal(last_shot_, 0);
      break;
    case Action::kMeter:
      add_error(Error::kHardwareMissing);
      reply(kNotANumber);
      break;
    default:
      break;
  }
}

void TriggerCore::perform_set(Action action, const Number& number, uint32_t now_us) {
  bool whole = false;
  switch (action) {
    case Action::kSetHeartbeat:
      set_heartbeat(number);
      break;
    case Action::kSetTime:
      set_time(number);
      break;
    case Action::kSetIso: {
      // 100 to 25600, a thousandth to spare.
      uint32_t tenths = number.scaled(1, false, whole);
      if (number.negative || tenths < 999 || tenths > 256256) {
        add_error(Error::kOutOfRange);
      } else {
        uint32_t iso = number.scaled(0, true, whole);
        iso_ = iso < 100 ? 100 : at_most(iso, 25600);
      }
      break;
    }
    case Action::kSetAperture: {
      // 1.4 to 22, a thousandth to spare.
      uint32_t fine = number.scaled(4, false, whole);
      if (number.negative || fine < 13986 || fine > 220220) {
        add_error(Error::kOutOfRange);
      } else {
        uint32_t aperture = number.scaled(2, true, whole);
        aperture_ = aperture < 140 ? 140 : at_most(aperture, 2200);
      }
      break;
    }
    case Action::kRelease:
      release(number, now_us);
      break;
    default:
      break;
  }
}

void TriggerCore::set_time(const Number& number) {
  bool whole = false;
  uint32_t time = number.scaled(6, true, whole);
  uint32_t least = limits_.shortest_us - limits_.shortest_us / 1000;
  uint32_t most = limits_.longest_us + limits_.longest_us / 1000;
  if (number.negative || time < least || time > most) {
    add_error(Error::kOutOfRange);
  } else {
    time_us_ = time;
  }
}

void TriggerCore::set_heartbeat(const Number& number) {
  bool whole = false;
  uint32_t beat = number.scaled(6, true, whole);
  bool off = beat == 0 && number.digits == 0;
  if (!off && (number.negative || beat < kShortestBeatUs || beat > kLongestBeatUs)) {
    add_error(Error::kOutOfRange);
  } else {
    heartbeat_us_ = beat;
  }
}

void TriggerCore::release(const Number& number, uint32_t now_us) {
  bool whole = false;
  uint32_t shot = number.scaled(0, false, whole);
  if (number.negative || shot < 1 || shot > kLargestShot || (shot == kLargestShot && !whole)) {
    add_error(Error::kOutOfRange);
  } else if (!whole) {
    add_error(Error::kIllegalValue);
  } else if (is_exposing()) {
    add_error(Error::kInitIgnored);
  } else {
    pending_shot_ = shot;
    pending_us_ = time_us_;
    pending_beat_us_ = heartbeat_us_;
    closed_at_us_ = now_us;
    phase_at_us_ = now_us;
    phase_ = Phase::kHalfPressed;
    polls_at_once_ = 0;
    // It was said before now, perhaps long before: the watch begins with the exposure.
    heard_at_us_ = now_us;
    hardware_.set_half_press(hardware_.context, true);
  }
}

// What is said.

void TriggerCore::add_error(Error error) {
  if (error_count_ == kMostErrors) {
    errors_[kMostErrors - 1] = Error::kOverflow;
  } else {
    errors_[error_count_++] = error;
  }
}

TriggerCore::Error TriggerCore::take_error() {
  if (error_count_ == 0) {
    return Error::kNone;
  }
  Error oldest = errors_[0];
  error_count_--;
  for (uint8_t i = 0; i < error_count_; i++) {
    errors_[i] = errors_[i + 1];
  }
  return oldest;
}

void TriggerCore::reply(const char* text) {
  if (reply_open_) {
    put(';');
  }
  reply_open_ = true;
  for (; *text != '\0'; text++) {
    put(*text);
  }
}

void TriggerCore::reply_decimal(uint32_t value, uint8_t decimals) {
  while (decimals > 0 && value % 10 == 0) {
    value /= 10;
    decimals--;
  }
  char text[13];  // ten digits, a point, a nought before it and the end
  size_t at = sizeof text - 1;
  text[at] = '\0';
  for (uint8_t digit = 0; value > 0 || digit <= decimals; digit++) {
    if (digit == decimals && digit > 0) {
      text[--at] = '.';
    }
    text[--at] = static_cast<char>('0' + value % 10);
    value /= 10;
  }
  reply(text + at);
}

void TriggerCore::put(char character) {
  // Cannot be full: a command begins only with room for its reply. Checked all the same.
  if (output_count_ < kOutputBytes) {
    output_[(output_from_ + output_count_) % kOutputBytes] = character;
    output_count_++;
  }
}

void TriggerCore::flush() {
  while (output_count_ > 0 &&
         hardware_.write(hardware_.context, static_cast<uint8_t>(output_[output_from_]))) {
    output_from_ = (output_from_ + 1) % kOutputBytes;
    output_count_--;
  }
}

}  // namespace scenespan
