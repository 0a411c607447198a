#include "cli/read/moves.h"

#include "cli/read/nearest.h"
#include "cli/read/quantity.h"
#include "cli/read/switches.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Ten hours: past this it is no move but a new garment.
constexpr double kMostMinutes = 600;
constexpr double kMostLinedFactor = 10;

std::vector<std::string> change_words() {
  std::vector<std::string> words;
  words.reserve(kChanges);
  for (int i = 0; i < kChanges; ++i) words.emplace_back(info(static_cast<Change>(i)).name);
  return words;
}

std::vector<std::string> seam_words() {
  std::vector<std::string> words;
  words.reserve(kSeamKeys);
  for (int i = 0; i < kSeamKeys; ++i) words.emplace_back(to_string(static_cast<SeamKey>(i)));
  return words;
}

std::vector<std::string> opening_words() {
  std::vector<std::string> words;
  words.reserve(kOpenings);
  for (int i = 0; i < kOpenings; ++i) words.emplace_back(to_string(static_cast<Opening>(i)));
  return words;
}

/// A plain number from 0 (or above it) to `most`.
std::optional<double> number_of(Section& section, std::string_view key, double least, double most) {
  const YamlNode* node = section.need(key);
  if (node == nullptr) return std::nullopt;
  const auto value = quantity_of(*node, section.path_to(key), section.source(), kRatio);
  if (value && !(*value >= least && *value <= most)) {
    section.source().complain(node->place,
                              section.path_to(key),
                              fmt::format("{:g} is outside {:g} to {:g}", *value, least, most));
    return std::nullopt;
  }
  return value;
}

/// '2.5 cm': written in the reader's unit.
bool is_length(const std::string& blank) {
  std::string why;
  return blank.ends_with(" cm") && parse_quantity(blank, kLength, why).has_value();
}

class MoveReader {
 public:
  MoveReader(const YamlNode& map, std::string path, const Source& source)
      : section_(map, std::move(path), source) {}

  std::optional<Move> read() {
    move_.name = keep(section_.need_text("move"));
    move_.place = keep(section_.need_text("place"));
    read_change();
    read_limits();
    read_cloth();
    read_labour();
    read_words();
    section_.finish();
    return ok_ ? std::optional(std::move(move_)) : std::nullopt;
  }

 private:
  std::string keep(std::optional<std::string> text) {
    ok_ = ok_ && text;
    return text.value_or("");
  }

  void read_change() {
    const YamlNode* node = section_.need("change");
    const auto text = node == nullptr
                          ? std::nullopt
                          : text_of(*node, section_.path_to("change"), section_.source());
    const std::vector<std::string> words = change_words();
    const auto found = text ? std::find(words.begin(), words.end(), *text) : words.end();
    if (found != words.end()) {
      move_.change = static_cast<Change>(found - words.begin());
      return;
    }
    ok_ = false;
    if (!text) return;
    section_.source().complain(node->place,
                               section_.path_to("change"),
                               "there is no such change" + suggestion(*text, words));
  }

  Dimension dimension() const {
    return move_.change == Change::count ? kLength : info(move_.change).dimension;
  }

  std::optional<double> amount(std::string_view key) {
    const YamlNode* node = section_.need(key);
    const auto value =
        node == nullptr || move_.change == Change::count
            ? std::nullopt
            : quantity_of(*node, section_.path_to(key), section_.source(), dimension());
    if (value && *value <= 0) {
      section_.source().complain(node->place, section_.path_to(key), "has to be above 0");
      return std::nullopt;
    }
    return value;
  }

  void read_limits() {
    const auto least = amount("least"), most = amount("most");
    ok_ = ok_ && least && most;
    move_.least = least.value_or(move_.least);
    move_.most = most.value_or(move_.most);
    if (least && most && *least > *most) {
      section_.source().complain(
          section_.find("least")->place, section_.path_to("least"), "is more than 'most'");
      ok_ = false;
    }
    if (section_.find("let out of") == nullptr) return;
    const auto seam = section_.find_word("let out of", seam_words());
    ok_ = ok_ && seam;
    if (seam) move_.let_out_of = static_cast<SeamKey>(*seam);
  }

  void read_cloth() {
    move_.adds_cloth = section_.find_yes_or_no("adds cloth").value_or(false);
    move_.leaves_holes = section_.find_yes_or_no("leaves holes").value_or(false);
    if (const auto cloth = section_.find_word("cloth", {"any", "woven", "knit"}))
      move_.structure = static_cast<ClothStructure>(*cloth);
    if (const auto lined = section_.find_word("lined", {"same", "blocked", "dearer"}))
      move_.lined = static_cast<WhenLined>(*lined);
    const YamlNode* factor = section_.find("lined factor");
    if (move_.lined == WhenLined::dearer) {
      const auto times = number_of(section_, "lined factor", 1, kMostLinedFactor);
      ok_ = ok_ && times;
      move_.lined_factor = times.value_or(1);
    } else if (factor != nullptr) {
      section_.source().complain(
          factor->key_place, section_.path_to("lined factor"), "goes with 'lined: dearer' alone");
    }
    if (const YamlNode* when = section_.find("when"))
      move_.when = read_conditions(*when, section_.path_to("when"), section_.source());
  }

  void read_labour() {
    if (const YamlNode* node = section_.need("minutes")) {
      Section minutes(*node, section_.path_to("minutes"), section_.source());
      const auto once = number_of(minutes, "once", 0, kMostMinutes);
      const auto each =
          number_of(minutes, dimension() == kAngle ? "each deg" : "each cm", 0, kMostMinutes);
      minutes.finish();
      ok_ = ok_ && once && each;
      move_.minutes_fixed = once.value_or(0);
      move_.minutes_per_unit = each.value_or(0);
      if (const YamlNode* opens = section_.find("opens")) read_opens(*opens);
    } else {
      ok_ = false;
    }
    if (section_.need("order") == nullptr) {
      ok_ = false;
      return;
    }
    const auto stage = section_.find_word("order", stages_of_work());
    ok_ = ok_ && stage;
    if (stage) move_.order = 10 * (static_cast<int>(*stage) + 1);
  }

  /// What is opened and the minutes of `once` that this takes.
  void read_opens(const YamlNode& map) {
    const std::vector<std::string> names = opening_words();
    Section opens(map, section_.path_to("opens"), section_.source());
    double sum = 0;
    for (const YamlNode* entry : opens.entries()) {
      const auto found = std::find(names.begin(), names.end(), entry->key);
      if (found == names.end()) {
        section_.source().complain(entry->key_place,
                                   opens.path_to(entry->key),
                                   fmt::format("is nothing that is opened; there are {}{}",
                                               fmt::join(names, ", "),
                                               suggestion(entry->key, names)));
        ok_ = false;
        continue;
      }
      const auto minutes = number_of(opens, entry->key, 0, kMostMinutes);
      ok_ = ok_ && minutes;
      sum += minutes.value_or(0);
      move_.opens[static_cast<size_t>(found - names.begin())] = minutes.value_or(0);
    }
    if (sum <= move_.minutes_fixed) return;
    section_.source().complain(
        map.place,
        section_.path_to("opens"),
        fmt::format("takes {:g} minutes, more than 'once' has ({:g})", sum, move_.minutes_fixed));
    ok_ = false;
  }

  void read_words() {
    move_.says = words("says");
    if (!move_.says.empty() && move_.says.find('{') == std::string::npos) {
      section_.source().complain(section_.find("says")->place,
                                 section_.path_to("says"),
                                 "does not say how much: '{amount}' is wanted in it");
      ok_ = false;
    }
    move_.mark = words("mark");
    move_.check = words("check");
    move_.caution = section_.find_text("caution").value_or("");
    move_.source = keep(section_.need_text("source"));
  }

  /// A text in which what stands in braces is one of blanks_of_words() or a length.
  std::string words(std::string_view key) {
    std::string text = keep(section_.need_text(key));
    for (size_t open = text.find('{'); open != std::string::npos; open = text.find('{', open + 1)) {
      const size_t close = std::min(text.find('}', open), text.size());
      const std::string blank = text.substr(open + 1, close - open - 1);
      const auto& known = blanks_of_words();
      const bool is_known = std::find(known.begin(), known.end(), blank) != known.end();
      if (close < text.size() && (is_known || is_length(blank))) continue;
      section_.source().complain(
          section_.find(key)->inside(open),
          section_.path_to(key),
          fmt::format("'{}' is none of {{{}}} and no length like {{2.5 cm}}{}",
                      text.substr(open, std::min<size_t>(close - open + 1, 40)),
                      fmt::join(known, "}, {"),
                      suggestion(blank, known)));
      ok_ = false;
    }
    return text;
  }

  Section section_;
  Move move_;
  bool ok_ = true;
};

}  // namespace

const std::vector<std::string>& stages_of_work() {
  static const std::vector<std::string> stages = {"length over the shoulder",
                                                  "back",
                                                  "bust",
                                                  "side seams",
                                                  "waist level",
                                                  "hips",
                                                  "armhole edge",
                                                  "neckline edge",
                                                  "straps",
                                                  "closures",
                                                  "hem"};
  return stages;
}

const std::vector<std::string>& blanks_of_words() {
  static const std::vector<std::string> blanks = {
      "amount", "half", "twice", "four times", "nothing"};
  return blanks;
}

void read_moves(const YamlNode& map, const Source& source, std::vector<Move>& moves) {
  Section section(map, "", source);
  section.need_text("group");
  const YamlNode* list = section.need("moves");
  section.finish();
  if (list == nullptr || !expect_kind(*list, YamlNode::Kind::list, "moves", source)) return;
  for (size_t i = 0; i < list->children.size(); ++i) {
    const YamlNode& item = list->children[i];
    const std::string path = fmt::format("moves[{}]", i + 1);
    auto move = MoveReader(item, path, source).read();
    if (!move) continue;
    const bool known = std::any_of(
        moves.begin(), moves.end(), [&move](const Move& m) { return m.name == move->name; });
    if (known) {
      source.complain(item.place, path, "there is a move of this name already: " + move->name);
    } else {
      moves.push_back(std::move(*move));
    }
  }
}

}  // namespace easewright
