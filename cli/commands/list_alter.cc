#include "cli/commands/list_alter.h"

#include "cli/read/alter_catalogue.h"
#include "cli/read/data_folder.h"
#include "cli/read/in_hand.h"
#include "cli/read/moves.h"
#include "cli/write/instruction.h"
#include "cli/write/quantity.h"
#include "model/alter/flat.h"

#include <cmath>
#include <string>

#include <fmt/format.h>

namespace easewright {
namespace {

constexpr const char* kIndent = "    ";

/// A garment lying closed, seen from the front and from the back; letters are the points that flat
/// measurements run between. ':' is the free edge of the front that lies underneath.
constexpr const char* kPoints[] = {
    "         front                             back",
    "",
    "     A--B         B--A               A--B._       _.B--A",
    "    /    \\       /    \\             /      '--C--'      \\",
    "   |      \\     /      |           |                     |",
    "   D       \\   /       D           D                     D",
    "    \\       \\ /       /             \\                   /",
    "     E       C       E               E                 E",
    "     |               |               |                 |",
    "     |               |               |                 |",
    "     F-----:-G-|-----F               F--------G--------F",
    "    /      :   |      \\             /                   \\",
    "   H       :   J       H           H                     H",
    "   |       :   K       |           |                     |",
    "   |       :   L       |           |                     |",
    "   |       :  /        |           |                     |",
    "   |        :/         |           |                     |",
    "   |        /:         |           |                     |",
    "   N-------M--:--------N           N---------------------N",
};

/// From which point to which.
std::string_view points_of(FlatKey key) {
  switch (key) {
    case FlatKey::chest_width:
      return "E to E, both layers";
    case FlatKey::front_chest_width:
      return "E to E, front";
    case FlatKey::waist_width:
      return "F to F";
    case FlatKey::side_seam:
      return "E to F";
    case FlatKey::front_length:
    case FlatKey::back_length:
      return "B down to F-F";
    case FlatKey::centre_front_length:
    case FlatKey::centre_back_length:
      return "C to G";
    case FlatKey::neckline_drop:
    case FlatKey::back_neckline_drop:
      return "B-B down to C";
    case FlatKey::neck_opening:
      return "B to B";
    case FlatKey::strap_width:
      return "A to B";
    case FlatKey::strap_drop:
      return "A below B";
    case FlatKey::across_front:
    case FlatKey::across_back:
      return "D to D";
    case FlatKey::armhole_edge:
      return "A, D, E and round the back";
    case FlatKey::neck_edge:
      return "B, C, B and round the back";
    case FlatKey::hip_width:
      return "H to H";
    case FlatKey::front_panel_width:
      return "J to H";
    case FlatKey::overlap:
      return ": to | at G";
    case FlatKey::skirt_length:
      return "F to N";
    case FlatKey::hem_width:
      return "N to N";
    case FlatKey::slit_start:
      return "G down to L";
    case FlatKey::slit_run_in:
      return "M beside the plumb line from J";
    case FlatKey::caught_length:
      return "G down to K";
    case FlatKey::elastic:
    case FlatKey::casing_width:
      return "inside F-F";
    case FlatKey::belt_length:
    case FlatKey::count:
      break;
  }
  return "";
}

std::string conditions_of(const std::vector<Condition>& when) {
  std::string text;
  for (const Condition& c : when)
    text += fmt::format("{}{} {}",
                        text.empty() ? "" : ", ",
                        spoken(info(c.which).id),
                        fmt::join(c.options, " or "));
  return text;
}

/// 'woven; lined 1.83 times the work; adds cloth'.
std::string bounds_of(const Move& move) {
  std::vector<std::string> parts;
  if (move.let_out_of)
    parts.push_back(fmt::format("from the {} allowance", to_string(*move.let_out_of)));
  if (move.adds_cloth) parts.emplace_back("adds cloth");
  if (move.structure != ClothStructure::any)
    parts.emplace_back(move.structure == ClothStructure::knit ? "knits" : "wovens");
  if (move.leaves_holes) parts.emplace_back("not where a stitched line shows");
  if (move.lined == WhenLined::blocked) parts.emplace_back("not when lined");
  if (move.lined == WhenLined::dearer)
    parts.push_back(fmt::format("lined {:g} times the work", move.lined_factor));
  if (const std::string when = conditions_of(move.when); !when.empty()) parts.push_back(when);
  return fmt::format("{}", fmt::join(parts, "; "));
}

}  // namespace

void list_entry(Page& page,
                std::string_view name,
                std::string_view unit,
                std::string_view definition) {
  page.paragraph(std::string(name), unit.empty() ? "" : fmt::format(" ({})", unit), Tone::bold);
  page.paragraph(kIndent, definition);
}

void list_moves(Page& page, Complaints& complaints) {
  const auto catalogue = read_alter_catalogue(data_folder(), complaints);
  if (!catalogue) return;
  for (const std::string& stage : stages_of_work()) {
    page.line(stage, Tone::bold);
    const auto order = 10 * (&stage - stages_of_work().data() + 1);
    for (const Move& move : catalogue->moves) {
      if (move.order != order) continue;
      const Dimension d = info(move.change).dimension;
      page.paragraph("  ",
                     fmt::format("{}, {}, {} and {:g} min a {}",
                                 move.name,
                                 write_wanted(move.least, move.most, d, {}),
                                 write_minutes(move.minutes_fixed),
                                 move.minutes_per_unit,
                                 unit_word(d, {})));
      page.paragraph(kIndent, move.place);
      if (const std::string bounds = bounds_of(move); !bounds.empty())
        page.paragraph(kIndent, bounds);
    }
    page.gap();
  }
}

void list_changes(Page& page, Complaints&) {
  for (int i = 0; i < kChanges; ++i) {
    const ChangeInfo& change = info(static_cast<Change>(i));
    list_entry(page, change.name, unit_word(change.dimension, {}), change.definition);
  }
}

void list_faults(Page& page, Complaints& complaints) {
  const auto catalogue = read_alter_catalogue(data_folder(), complaints);
  if (!catalogue) return;
  for (const FaultKind& fault : catalogue->faults) {
    const std::string error = write_quantity(fault.error, fault.reads.dimension(), {});
    list_entry(page, fault.name, "+- " + error, fault.how);
    page.paragraph(
        kIndent,
        fmt::format("reads {}; {}",
                    fault.reads.text(),
                    std::isfinite(fault.fine)
                        ? "fine up to " + write_quantity(fault.fine, fault.reads.dimension(), {})
                        : std::string("no fault in itself")));
    if (const std::string when = conditions_of(fault.when); !when.empty())
      page.paragraph(kIndent, "where " + when);
  }
}

void list_flat(Page& page, Complaints&) {
  page.paragraph(
      "",
      "Lay the garment closed on a table, face up, smoothed and not stretched. Half of a "
      "round is taken, edge to edge.");
  page.gap();
  for (const char* line : kPoints) page.line(line);
  page.gap();
  page.paragraph(
      "",
      "A, B arm and neck end of the strap seam; C bottom of the neckline; D narrowest "
      "between the armholes; E underarm; F, G waist seam at side and centre; H hip level; "
      "J the upper front's free edge there, ':' the under one's; K bar tack; L where the edge "
      "begins to curve; M where it "
      "meets the hem; N hem at the side.");
  page.gap();
  page.line(fmt::format("{:<20} {:>5}  {}", "in cm", "error", "from where to where"), Tone::bold);
  for (int i = 0; i < kFlatKeys; ++i) {
    const auto key = static_cast<FlatKey>(i);
    const FlatInfo& flat = info(key);
    const std::string_view points = points_of(key);
    const std::string error = write_number(flat.error, kLength, {});
    page.paragraph(
        fmt::format("{:<20} {:>5}  ", flat.name, error),
        points.empty() ? std::string(flat.how) : fmt::format("{} ({})", flat.how, points));
  }
}

}  // namespace easewright
