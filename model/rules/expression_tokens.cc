#include "model/rules/expression_tokens.h"

#include <array>
#include <charconv>
#include <cmath>

#include <fmt/format.h>

namespace easewright {
namespace {

using Kind = Token::Kind;

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_'; }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

struct Unit {
  std::string_view text;
  double size;
  Dimension dimension;
};
constexpr std::array<Unit, 18> kUnits = {{{"cm", 1, kLength},
                                          {"mm", 0.1, kLength},
                                          {"m", 100, kLength},
                                          {"in", kCmPerInch, kLength},
                                          {"inch", kCmPerInch, kLength},
                                          {"inches", kCmPerInch, kLength},
                                          {"\"", kCmPerInch, kLength},
                                          {"″", kCmPerInch, kLength},
                                          {"deg", kPi / 180, kAngle},
                                          {"degree", kPi / 180, kAngle},
                                          {"degrees", kPi / 180, kAngle},
                                          {"°", kPi / 180, kAngle},
                                          {"rad", 1, kAngle},
                                          {"%", 0.01, kRatio},
                                          {"percent", 0.01, kRatio},
                                          {"year", 1, kTime},
                                          {"years", 1, kTime},
                                          {"yrs", 1, kTime}}};

struct Fraction {
  std::string_view text;
  double value;
};
constexpr std::array<Fraction, 9> kFractions = {{{"¼", 0.25},
                                                 {"½", 0.5},
                                                 {"¾", 0.75},
                                                 {"⅛", 0.125},
                                                 {"⅜", 0.375},
                                                 {"⅝", 0.625},
                                                 {"⅞", 0.875},
                                                 {"⅓", 1.0 / 3},
                                                 {"⅔", 2.0 / 3}}};

struct Sign {
  std::string_view text;
  Kind kind;
};
// Longer ones first: '+-' before '+'.
constexpr std::array<Sign, 20> kSigns = {
    {{"+/-", Kind::plus_minus}, {"+-", Kind::plus_minus}, {"±", Kind::plus_minus},
     {">=", Kind::at_least},    {"≥", Kind::at_least},    {"<=", Kind::at_most},
     {"≤", Kind::at_most},      {"==", Kind::equals},     {"=", Kind::equals},
     {"+", Kind::plus},         {"-", Kind::minus},       {"−", Kind::minus},
     {"*", Kind::times},        {"×", Kind::times},       {"·", Kind::times},
     {"/", Kind::divide},       {"÷", Kind::divide},      {"(", Kind::open},
     {")", Kind::close},        {",", Kind::comma}}};

class Splitter {
 public:
  Splitter(std::string_view text, ExpressionError& error) : text_(text), error_(error) {}

  std::optional<std::vector<Token>> run() {
    while (true) {
      skip_spaces();
      if (at_ == text_.size()) break;
      const bool read = starts_number()         ? read_number()
                        : is_letter(text_[at_]) ? read_name()
                                                : read_sign();
      if (!read) return std::nullopt;
    }
    tokens_.push_back({Kind::end, at_, {}, 0, {}, false});
    return std::move(tokens_);
  }

 private:
  char peek(size_t ahead = 0) const {
    return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0';
  }
  bool starts(std::string_view what) const { return text_.substr(at_, what.size()) == what; }
  void skip_spaces() {
    while (at_ < text_.size() && is_space(text_[at_])) ++at_;
  }
  bool fail(size_t column, std::string message) {
    error_ = {column, std::move(message)};
    return false;
  }

  const Fraction* fraction_here() const {
    for (const Fraction& f : kFractions) {
      if (starts(f.text)) return &f;
    }
    return nullptr;
  }

  bool starts_number() const {
    return is_digit(peek()) || (peek() == '.' && is_digit(peek(1))) || fraction_here() != nullptr;
  }

  /// The unit at the place where the text stands, spaces before it skipped; it is not taken.
  const Unit* unit_after(size_t& past) const {
    size_t at = at_;
    while (at < text_.size() && is_space(text_[at])) ++at;
    const std::string_view rest = text_.substr(at);
    if (!rest.empty() && is_letter(rest[0])) {
      size_t length = 1;
      while (length < rest.size() &&
             (is_letter(rest[length]) || is_digit(rest[length]) || rest[length] == '.'))
        ++length;
      for (const Unit& unit : kUnits) {
        if (unit.text != rest.substr(0, length)) continue;
        past = at + length;
        return unit.text == "in" && introduces_range(past) ? nullptr : &unit;
      }
      return nullptr;
    }
    for (const Unit& unit : kUnits) {
      if (!is_letter(unit.text[0]) && rest.substr(0, unit.text.size()) == unit.text) {
        past = at + unit.text.size();
        return &unit;
      }
    }
    return nullptr;
  }

  /// After '2 in': true where an operand follows, as in 'a / 2 in 1 cm to 2 cm'; there 'in' is no
  /// unit.
  bool introduces_range(size_t at) const {
    while (at < text_.size() && is_space(text_[at])) ++at;
    if (at == text_.size()) return false;
    if (is_digit(text_[at]) || text_[at] == '(' || text_[at] == '.') return true;
    if (!is_letter(text_[at])) return false;
    size_t end = at;
    while (end < text_.size() && is_letter(text_[end])) ++end;
    const std::string_view word = text_.substr(at, end - at);
    return word != "to" && word != "in";
  }

  /// Digits at `at`; their end, or `at` when there are none.
  size_t digits_end(size_t at) const {
    while (at < text_.size() && is_digit(text_[at])) ++at;
    return at;
  }

  /// 'digits/digits' from `at`, not part of a longer number. True with the value and its end.
  bool read_simple_fraction(size_t at, double& value, size_t& end) {
    const size_t slash = digits_end(at);
    if (slash == at || slash >= text_.size() || text_[slash] != '/') return false;
    const size_t past = digits_end(slash + 1);
    if (past == slash + 1) return false;
    if (past < text_.size() && text_[past] == '.') return false;
    const double below = to_double(text_.substr(slash + 1, past - slash - 1));
    value = to_double(text_.substr(at, slash - at)) / below;
    end = past;
    return true;
  }

  static double to_double(std::string_view digits) {
    double value = HUGE_VAL;  // stays so when out of range
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    return value;
  }

  bool read_number() {
    const size_t start = at_;
    double value = 0;
    if (!read_magnitude(value)) return false;
    if (!std::isfinite(value)) {
      return fail(
          start,
          fmt::format("'{}' is no number that can be measured", text_.substr(start, at_ - start)));
    }
    if (peek() == '.') return fail(at_, "a number has one decimal point");
    Token token{Kind::number, start, {}, value, kRatio, true};
    size_t past = at_;
    if (const Unit* unit = unit_after(past)) {
      token.number *= unit->size;
      token.dimension = unit->dimension;
      token.bare = false;
      at_ = past;
    }
    token.text = text_.substr(start, at_ - start);
    tokens_.push_back(token);
    return true;
  }

  /// '2.5', '1 3/4', '3/4' before a unit, '1½'.
  bool read_magnitude(double& value) {
    if (const Fraction* f = fraction_here()) {
      value = f->value;
      at_ += f->text.size();
      return true;
    }
    const size_t start = at_;
    size_t end = 0;
    if (read_simple_fraction(at_, value, end)) {
      const size_t number_end = digits_end(at_);
      at_ = end;
      size_t past = 0;
      if (unit_after(past) != nullptr) return true;
      at_ = number_end;  // no unit: a division
      value = to_double(text_.substr(start, number_end - start));
      return true;
    }
    const char* const begin = text_.data() + at_;
    const auto [stop, code] = std::from_chars(begin, text_.data() + text_.size(), value);
    at_ += static_cast<size_t>(stop - begin);
    if (code != std::errc()) value = HUGE_VAL;
    if (digits_end(start) != at_) return true;  // '2.5': nothing is mixed with it

    if (const Fraction* f = fraction_here()) {
      value += f->value;
      at_ += f->text.size();
      return true;
    }
    size_t next = at_;
    while (next < text_.size() && is_space(text_[next])) ++next;
    double part = 0;
    if (next > at_ && read_simple_fraction(next, part, end)) {
      value += part;
      at_ = end;
    }
    return true;
  }

  bool read_name() {
    const size_t start = at_;
    while (is_letter(peek()) || is_digit(peek()) || peek() == '.') ++at_;
    const std::string_view word = text_.substr(start, at_ - start);
    const Kind kind = word == "in" ? Kind::in : word == "to" ? Kind::to : Kind::name;
    tokens_.push_back({kind, start, word, 0, {}, false});
    return true;
  }

  bool read_sign() {
    for (const Sign& sign : kSigns) {
      if (!starts(sign.text)) continue;
      tokens_.push_back({sign.kind, at_, text_.substr(at_, sign.text.size()), 0, {}, false});
      at_ += sign.text.size();
      return true;
    }
    switch (peek()) {
      case '<':
        return fail(at_, "write '<=': a limit itself is allowed");
      case '>':
        return fail(at_, "write '>=': a limit itself is allowed");
      case '^':
        return fail(at_, "there are no powers: multiply instead");
      case '.':
        return fail(at_, "a point belongs inside a number or a name");
      default:
        break;
    }
    const size_t length = character_length();
    return fail(at_,
                length > 0
                    ? fmt::format("'{}' has no place in an expression", text_.substr(at_, length))
                    : "a byte that is no text has no place in an expression");
  }

  /// Bytes of the UTF-8 character here; 0 when it is none, or a control character.
  size_t character_length() const {
    const auto byte = [this](size_t ahead) { return static_cast<unsigned char>(peek(ahead)); };
    if (byte(0) < 0x80) return byte(0) >= 0x20 && byte(0) != 0x7F ? 1 : 0;
    const size_t length = byte(0) >= 0xC2 && byte(0) < 0xE0   ? 2
                          : byte(0) >= 0xE1 && byte(0) < 0xED ? 3
                                                              : 0;
    for (size_t i = 1; i < length; ++i) {
      if ((byte(i) & 0xC0U) != 0x80U) return 0;
    }
    return length;
  }

  std::string_view text_;
  ExpressionError& error_;
  size_t at_ = 0;
  std::vector<Token> tokens_;
};

}  // namespace

std::optional<std::vector<Token>> split_expression(std::string_view text, ExpressionError& error) {
  return Splitter(text, error).run();
}

}  // namespace easewright
