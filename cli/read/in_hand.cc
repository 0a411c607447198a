#include "cli/read/in_hand.h"

#include "cli/read/data_folder.h"
#include "cli/read/flat.h"
#include "cli/read/nearest.h"
#include "cli/read/wish.h"
#include "cli/write/quantity.h"
#include "model/garment/garment.h"

#include <algorithm>

#include <fmt/format.h>

namespace easewright {
namespace {

/// A hem is the deepest; cm.
constexpr double kMostAllowance = 15;
/// Slips past these, cm and rad: nobody pins out more at a try-on.
constexpr double kMostAmount = 80;

/// Which switches the garment stands at, as far as it is known before a fit.
Switches switches_of(const Job& job) {
  Switches switches = job.style.switches;
  switches.set(Switch::build,
               job.body.build == Build::woman ? "woman"
               : job.body.build == Build::man ? "man"
                                              : "child");
  return switches;
}

std::vector<std::string> seam_names() {
  std::vector<std::string> names;
  names.reserve(kSeamKeys);
  for (int i = 0; i < kSeamKeys; ++i) names.emplace_back(to_string(static_cast<SeamKey>(i)));
  return names;
}

class InHandReader {
 public:
  InHandReader(const LoadedJob& loaded,
               const Catalogue& catalogue,
               const AlterCatalogue& vocabulary,
               Complaints& complaints)
      : loaded_(loaded),
        catalogue_(catalogue),
        vocabulary_(vocabulary),
        source_{loaded.file, complaints},
        switches_(switches_of(loaded.job)) {}

  LoadedInHand read() {
    in_hand_.kind = switches_.is(Switch::skirt, "none") ? MadeKind::top : MadeKind::dress;
    in_hand_.holes_show = loaded_.job.cloth.leaves_holes;
    if (loaded_.made && loaded_.made->kind != YamlNode::Kind::null) read_made(*loaded_.made);
    if (loaded_.faults && loaded_.faults->kind != YamlNode::Kind::null)
      read_faults(*loaded_.faults);
    return {std::move(in_hand_), std::move(places_)};
  }

 private:
  void read_made(const YamlNode& map) {
    Section section(map, "made", source_);
    read_kind(section);
    read_made_for(section);
    if (const YamlNode* wishes = section.find_filled("wishes")) read_made_wishes(section, *wishes);
    if (const YamlNode* flat = section.find_filled("flat"))
      in_hand_.flat = read_flat(*flat, "made.flat", source_, in_hand_.kind, switches_);
    // What is said of an allowance counts before what its finish leaves.
    if (const YamlNode* edges = section.find_filled("edges")) read_edges(*edges);
    if (const YamlNode* seams = section.find_filled("seams")) read_seams(*seams);
    if (const auto show = section.find_yes_or_no("holes show")) in_hand_.holes_show = *show;
    section.finish();
  }

  /// Wishes that it was cut by: of a job they may ask too much, and are then told as missed; a
  /// garment in hand can't have been cut past what the value can be.
  void read_made_wishes(Section& section, const YamlNode& map) {
    in_hand_.made_wishes = read_wishes(map, section.path_to("wishes"), source_);
    for (const Wish& wish : in_hand_.made_wishes) {
      const auto is_its = [&](const YamlNode& entry) {
        return entry.key == wish.id || entry.key == spoken(wish.id);
      };
      const auto entry = std::find_if(map.children.begin(), map.children.end(), is_its);
      if (entry != map.children.end())
        check_range(wish, *entry, section.path_to("wishes") + "." + entry->key);
    }
  }

  void check_range(const Wish& wish, const YamlNode& entry, const std::string& path) const {
    const Range range = range_of(wish.id);
    for (const auto& side : {wish.lo, wish.hi}) {
      std::string why;
      const auto value = side ? parse_quantity(side->text(), range.dimension, why) : std::nullopt;
      if (!value || (*value >= range.least && *value <= range.most)) continue;
      source_.complain(entry.place,
                       path,
                       write_quantity(*value, range.dimension, {}) + " is outside " +
                           write_range(range.least, range.most, range.dimension, {}));
      return;
    }
  }

  struct Range {
    Dimension dimension;
    double least = 0, most = 0;
  };

  /// Of a draft value its own limits, where they are the same on every body; of anything else more
  /// than any garment has.
  Range range_of(const std::string& id) const {
    constexpr double kMostLength = 300, kMostOther = 20;  // cm; ratios and seconds
    for (int i = 0; i < kMeasureKeys + kValueKeys; ++i) {
      const bool is_value = i >= kMeasureKeys;
      const auto key = static_cast<size_t>(is_value ? i - kMeasureKeys : i);
      const auto& [name, d] = is_value ? std::pair(info(static_cast<ValueKey>(key)).id,
                                                   info(static_cast<ValueKey>(key)).dimension)
                                       : std::pair(info(static_cast<MeasureKey>(key)).id,
                                                   info(static_cast<MeasureKey>(key)).dimension);
      if (name != id) continue;
      const double most = d == kLength ? kMostLength : d == kAngle ? radians(180) : kMostOther;
      Range range{d, -most, most};
      std::string why;
      if (!is_value) return range;
      const ValueDefault& limits = catalogue_.values[key];
      range.least = parse_quantity(limits.least.text(), d, why).value_or(range.least);
      range.most = parse_quantity(limits.most.text(), d, why).value_or(range.most);
      return range;
    }
    return {kLength, -kMostLength, kMostLength};
  }

  void read_kind(Section& section) {
    const YamlNode* node = section.find("kind");
    const auto kind = section.find_word("kind", kind_words());
    if (!kind) return;
    // What contradicts the style is complained of once, not in each part that follows from it.
    if (agrees_with_skirt(static_cast<MadeKind>(*kind), switches_, *node, "made.kind", source_))
      in_hand_.kind = static_cast<MadeKind>(*kind);
  }

  void read_made_for(Section& section) {
    const YamlNode* node = section.find_filled("made for");
    if (node == nullptr) return;
    if (node->kind == YamlNode::Kind::map) {
      Body body = read_body(*node, "made.made for", source_, BodyName::optional, places_);
      if (body.label.empty()) body.label = "the body it was made for";
      in_hand_.made_for = std::move(body);
      return;
    }
    const auto reference = text_of(*node, "made.made for", source_);
    if (!reference) return;
    if (!is_path(*reference)) {
      source_.complain(
          node->place, "made.made for", fmt::format("'{}' is no path to a .yaml file", *reference));
      return;
    }
    const std::string path = beside(source_.file, *reference);
    const auto map =
        load_yaml(path, source_.complaints, {source_.file, node->place, "made.made for"});
    if (map)
      in_hand_.made_for =
          read_body(*map, "", {path, source_.complaints}, BodyName::required, places_);
  }

  /// The seam that an entry names; nothing after a complaint.
  std::optional<SeamKey> seam_named(const YamlNode& entry, const std::string& path) const {
    const std::vector<std::string> names = seam_names();
    const auto found = std::find(names.begin(), names.end(), entry.key);
    if (found == names.end()) {
      source_.complain(
          entry.key_place, path, "there is no such seam or edge" + suggestion(entry.key, names));
      return std::nullopt;
    }
    const auto key = static_cast<SeamKey>(found - names.begin());
    const char* lacks = seam_lacking(key);
    if (lacks == nullptr) return key;
    source_.complain(entry.key_place, path, lacks);
    return std::nullopt;
  }

  /// Why the garment has no such seam; null where it has.
  const char* seam_lacking(SeamKey key) const {
    const bool bodice_only = key == SeamKey::shoulder || key == SeamKey::neck ||
                             key == SeamKey::armhole || key == SeamKey::centre_back;
    if (in_hand_.kind == MadeKind::skirt && bodice_only) return "a skirt has no such seam";
    if (key == SeamKey::centre_back && !switches_.is(Switch::centre_back, "seam"))
      return "the back is cut on the fold ('centre back: seam' among the switches)";
    if (in_hand_.kind == MadeKind::top && key == SeamKey::front_edge)
      return "a top has no such seam";
    if (key == SeamKey::front_edge && !switches_.is(Switch::skirt, "wrapped"))
      return "the skirt is not wrapped: it has no free front edge";
    return nullptr;
  }

  std::optional<Seam>& seam(SeamKey key) { return in_hand_.seams[static_cast<size_t>(key)]; }

  void read_edges(const YamlNode& map) {
    Section section(map, "made.edges", source_);
    for (const YamlNode* entry : section.entries()) {
      const std::string path = section.path_to(entry->key);
      const auto key = seam_named(*entry, path);
      const auto finish = key ? word_of(*entry, path, source_, finish_words()) : std::nullopt;
      if (!finish) continue;
      seam(*key) = seam_finished(finish_words()[*finish]);
      in_hand_.finishes[static_cast<size_t>(*key)] = static_cast<Finish>(*finish);
    }
  }

  void read_seams(const YamlNode& map) {
    Section section(map, "made.seams", source_);
    for (const YamlNode* entry : section.entries()) {
      const std::string path = section.path_to(entry->key);
      const auto key = seam_named(*entry, path);
      if (key) read_seam(*entry, path, *key);
    }
  }

  void read_seam(const YamlNode& entry, const std::string& path, SeamKey key) {
    if (entry.kind != YamlNode::Kind::map) {
      const auto allowance = allowance_of(&entry, path);
      if (allowance) seam(key) = Seam{*allowance, std::min(usual_keep(key), *allowance)};
      return;
    }
    Section section(entry, path, source_);
    const auto allowance = allowance_of(section.need("allowance"), section.path_to("allowance"));
    const YamlNode* node = section.find("keep");
    const auto keep = allowance_of(node, section.path_to("keep"));
    section.finish();
    if (!allowance || (node != nullptr && !keep)) return;
    if (keep && *keep > *allowance) {
      source_.complain(node->place,
                       section.path_to("keep"),
                       fmt::format("{} is more than the allowance, {}",
                                   write_quantity(*keep, kLength, {}),
                                   write_quantity(*allowance, kLength, {})));
      return;
    }
    seam(key) = Seam{*allowance, keep.value_or(std::min(usual_keep(key), *allowance))};
  }

  std::optional<double> allowance_of(const YamlNode* node, const std::string& path) const {
    if (node == nullptr) return std::nullopt;
    const auto value = quantity_of(*node, path, source_, kLength);
    if (!value || (*value >= 0 && *value <= kMostAllowance)) return value;
    source_.complain(node->place,
                     path,
                     write_quantity(*value, kLength, {}) + " is outside " +
                         write_range(0, kMostAllowance, kLength, {}));
    return std::nullopt;
  }

  void read_faults(const YamlNode& map) {
    Section section(map, "faults", source_);
    std::vector<std::string> names;
    for (const FaultKind& kind : vocabulary_.faults) names.push_back(kind.name);
    for (const YamlNode* entry : section.entries()) {
      const std::string path = section.path_to(entry->key);
      const auto found = std::find(names.begin(), names.end(), entry->key);
      if (found == names.end()) {
        const std::string near = suggestion(entry->key, names);
        source_.complain(entry->key_place,
                         path,
                         "there is no such fault" +
                             (near.empty() ? " (`easewright list faults` names them)" : near));
        continue;
      }
      read_fault(*entry, path, vocabulary_.faults[static_cast<size_t>(found - names.begin())]);
    }
  }

  void read_fault(const YamlNode& entry, const std::string& path, const FaultKind& kind) {
    if (const std::string lacks = fault_lacking(kind); !lacks.empty()) {
      source_.complain(entry.key_place, path, lacks);
      return;
    }
    const Dimension d = kind.reads.dimension();
    const auto measured = amount_of(entry, path, source_, d);
    if (!measured) return;
    if (measured->value < 0) {
      source_.complain(entry.place, path, "is below 0; what was not seen is left out, or 0");
      return;
    }
    const double most = d == kAngle ? radians(kMostAmount) : kMostAmount;
    if (measured->value > most || measured->sd.value_or(0) > most) {
      source_.complain(
          entry.place, path, fmt::format("more than {} is a slip", write_quantity(most, d, {})));
      return;
    }
    in_hand_.faults.push_back({&kind, measured->value, measured->sd.value_or(kind.error)});
  }

  /// Why the garment can't have the fault; empty where it can.
  std::string fault_lacking(const FaultKind& kind) const {
    for (const Condition& condition : kind.when) {
      if (holds(condition)) continue;
      return fmt::format("is a fault of garments with {}: {}; this one has {}",
                         spoken(info(condition.which).id),
                         fmt::join(condition.options, " or "),
                         switches_[condition.which]);
    }
    const auto names = kind.reads.names();
    const bool has = std::all_of(
        names.begin(), names.end(), [this](const Name& name) { return has_part(name); });
    return has ? ""
               : fmt::format("this {} has no part that it could be seen on",
                             to_string(in_hand_.kind));
  }

  /// Of the ways to put it on, any will do: which one serves is found by the fit.
  bool holds(const Condition& condition) const {
    const auto& ways = loaded_.job.style.put_on;
    if (condition.which != Switch::put_on || ways.empty()) return condition.holds(switches_);
    const auto& all = info(Switch::put_on).options;
    return std::any_of(ways.begin(), ways.end(), [&](int way) {
      const auto& options = condition.options;
      return std::find(options.begin(), options.end(), all[static_cast<size_t>(way)]) !=
             options.end();
    });
  }

  /// Of a skirt alone only its casing and what hangs from it is judged.
  bool has_part(const Name& name) const {
    const bool skirt_alone = in_hand_.kind == MadeKind::skirt;
    if (name.kind == NameKind::value) {
      const auto& when = catalogue_.values[static_cast<size_t>(name.index)].when;
      return (skirt_has(static_cast<ValueKey>(name.index)) || !skirt_alone) &&
             std::all_of(when.begin(), when.end(), [this](const Condition& c) { return holds(c); });
    }
    if (name.kind != NameKind::measure) return true;
    const auto key = static_cast<MeasureKey>(name.index);
    return (skirt_has(key) || !skirt_alone) && has_measure(switches_, key);
  }

  const LoadedJob& loaded_;
  const Catalogue& catalogue_;
  const AlterCatalogue& vocabulary_;
  Source source_;
  Switches switches_;
  InHand in_hand_;
  BodyPlaces places_;
};

}  // namespace

const std::vector<std::string>& finish_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> all;
    for (int i = 0; i < kFinishes; ++i) all.emplace_back(to_string(static_cast<Finish>(i)));
    return all;
  }();
  return words;
}

std::optional<Seam> seam_finished(std::string_view finish) {
  if (finish == "overlocked") return Seam{0.7, 0.7};
  if (finish == "narrow hem" || finish == "faced") return Seam{0.6, 0.6};
  if (finish == "bound") return Seam{0, 0};
  return std::nullopt;
}

double usual_keep(SeamKey key) {
  switch (key) {
    case SeamKey::centre_back:
    case SeamKey::waist:
      return 0.8;
    case SeamKey::hem:
      return 1.5;
    default:
      return 0.6;
  }
}

std::optional<LoadedInHand> read_in_hand(const LoadedJob& loaded,
                                         const Catalogue& catalogue,
                                         const AlterCatalogue& vocabulary,
                                         Complaints& complaints) {
  const size_t before = complaints.size();
  LoadedInHand read = InHandReader(loaded, catalogue, vocabulary, complaints).read();
  if (complaints.size() > before) return std::nullopt;
  return read;
}

}  // namespace easewright
