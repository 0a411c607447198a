#include "cli/write/sizes.h"

#include "cli/write/instruction.h"
#include "cli/write/json_parts.h"
#include "cli/write/quantity.h"
#include "cli/write/verdict.h"
#include "cli/write/words.h"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>

namespace easewright {
namespace {

/// Misses that are named of each body; JSON has all.
constexpr size_t kNamed = 3;
/// Of larger groups a draft's bodies are summed up.
constexpr size_t kEachTold = 40;
constexpr size_t kNamedMoves = 4;
/// What a body is known by, where it was taped.
constexpr BodyKey kKnownBy[] = {
    BodyKey::bust_girth, BodyKey::waist_girth, BodyKey::hip_girth, BodyKey::stature};

/// How a body is served, best first.
enum class Way { drafted, as_it_is, altered, with_something_left, own };

Way way_of(const SizedBody& body) {
  if (body.is_draft) return Way::drafted;
  if (body.needs_own) return Way::own;
  if (!body.serving.left.empty()) return Way::with_something_left;
  return body.serving.steps.empty() ? Way::as_it_is : Way::altered;
}

const char* word(Way way) {
  switch (way) {
    case Way::drafted:
      return "drafted";
    case Way::as_it_is:
      return "as it is";
    case Way::altered:
      return "altered";
    case Way::with_something_left:
      return "with something left";
    case Way::own:
      return "a draft of its own";
  }
  return "";
}

std::string plural(size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

class Writer {
 public:
  Writer(const Sized& sized, Page& page)
      : sized_(sized), sizes_(sized.sizes), page_(page), unit_(sized.job->unit) {}

  void write() {
    write_title();
    write_counts();
    for (const size_t d : in_order()) write_draft(d);
    write_own();
    write_left_out();
    write_proof();
  }

 private:
  size_t count(Way way) const {
    return static_cast<size_t>(
        std::count_if(sizes_.bodies.begin(), sizes_.bodies.end(), [way](const SizedBody& b) {
          return way_of(b) == way;
        }));
  }

  const Body& body(int i) const { return sized_.bodies[static_cast<size_t>(i)]; }

  void write_title() {
    const Job& job = *sized_.job;
    page_.paragraph("",
                    fmt::format("Sizes of {}, {}: {} for {}",
                                job.style.label,
                                job.cloth.label,
                                plural(sizes_.drafts.size(), "draft", "drafts"),
                                plural(sizes_.bodies.size(), "body", "bodies")));
    const size_t own = count(Way::own);
    const size_t served = sizes_.bodies.size() - own;
    if (own == 0) {
      page_.paragraph("SERVES ALL: ", "nobody needs a garment of their own", Tone::good);
    } else {
      page_.paragraph(fmt::format("SERVES {} OF {}: ", served, sizes_.bodies.size()),
                      plural(own, "body is", "bodies are") + " better drafted for " +
                          (own == 1 ? "itself" : "themselves"),
                      Tone::bad);
    }
    page_.gap();
  }

  void write_counts() {
    std::string text = fmt::format("{} drafted for", count(Way::drafted));
    const std::pair<Way, const char*> ways[] = {
        {Way::as_it_is, " wear one as it is"},
        {Way::altered, " once it is altered"},
        {Way::with_something_left, " with something left that isn't worth the work"}};
    for (const auto& [way, words] : ways) text += fmt::format(", {}{}", count(way), words);
    page_.paragraph("Served    ", text, Tone::bold);
    double minutes = 0;
    std::vector<double> each;
    for (const SizedBody& b : sizes_.bodies) {
      if (b.is_draft || b.needs_own || b.serving.steps.empty()) continue;
      minutes += b.serving.minutes;
      each.push_back(b.serving.minutes);
    }
    if (each.empty()) return;
    std::sort(each.begin(), each.end());
    page_.paragraph("Work      ",
                    fmt::format("{} of alterations in all; for one body {} to {}, {} in the middle",
                                write_minutes(minutes),
                                write_minutes(each.front()),
                                write_minutes(each.back()),
                                write_minutes(each[each.size() / 2])),
                    Tone::bold);
  }

  /// Drafts from the smallest bust up, as sizes run.
  std::vector<size_t> in_order() const {
    std::vector<size_t> order(sizes_.drafts.size());
    for (size_t d = 0; d < order.size(); ++d) order[d] = d;
    const auto bust = [this](size_t d) {
      const auto& given = body(sizes_.drafts[d])[BodyKey::bust_girth];
      return given ? given->value : 0.0;
    };
    std::stable_sort(
        order.begin(), order.end(), [&](size_t a, size_t b) { return bust(a) < bust(b); });
    return order;
  }

  std::string known_by(int i) const {
    std::string text;
    for (const BodyKey key : kKnownBy) {
      const auto& given = body(i)[key];
      if (!given) continue;
      text += fmt::format("{}{} {}",
                          text.empty() ? "" : ", ",
                          spoken(info(key).id),
                          write_number(given->value, kLength, {unit_}));
    }
    return text;
  }

  void write_draft(size_t d) {
    std::vector<const SizedBody*> served;
    for (const SizedBody& b : sizes_.bodies)
      if (b.draft == static_cast<int>(d) && !b.is_draft && !b.needs_own) served.push_back(&b);
    std::stable_sort(served.begin(), served.end(), [](const SizedBody* a, const SizedBody* b) {
      return a->serving.cost < b->serving.cost;
    });
    page_.gap();
    const std::string known = known_by(sizes_.drafts[d]);
    page_.paragraph("Draft     ",
                    body(sizes_.drafts[d]).label + (known.empty() ? "" : ": " + known),
                    Tone::bold);
    if (served.empty()) page_.paragraph("  ", "serves nobody else");
    if (tell_each()) {
      for (const SizedBody* b : served) write_body(*b);
    } else if (!served.empty()) {
      write_sum(served);
    }
  }

  bool tell_each() const { return sized_.tell_all || sizes_.bodies.size() <= kEachTold; }

  /// How many are served, by what work, and by which moves most.
  void write_sum(const std::vector<const SizedBody*>& served) {
    std::vector<double> minutes;
    std::map<std::string, size_t> moves;
    for (const SizedBody* b : served) {
      if (!b->serving.steps.empty()) minutes.push_back(b->serving.minutes);
      for (const PlanStep& step : b->serving.steps) ++moves[step.move->name];
    }
    std::sort(minutes.begin(), minutes.end());
    std::string text =
        fmt::format("serves {}, {} without a move", served.size(), served.size() - minutes.size());
    if (!minutes.empty())
      text += fmt::format(", the others in {} in the middle",
                          write_minutes(minutes[minutes.size() / 2]));
    page_.paragraph("          ", text);
    std::vector<std::pair<size_t, std::string>> most;
    for (const auto& [name, count] : moves) most.emplace_back(count, name);
    std::stable_sort(
        most.begin(), most.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
    std::string named;
    for (size_t i = 0; i < std::min(kNamedMoves, most.size()); ++i)
      named += fmt::format("{}{} ({})", i == 0 ? "" : ", ", most[i].second, most[i].first);
    if (!named.empty()) page_.paragraph("          ", "most of all " + named);
  }

  void write_body(const SizedBody& b) {
    const Serving& serving = b.serving;
    std::string text;
    for (const PlanStep& step : serving.steps) {
      text += fmt::format("{}{} {}",
                          text.empty() ? write_minutes(serving.minutes) + ": " : "; ",
                          step.move->name,
                          write_quantity(step.amount, info(step.move->change).dimension, {unit_}));
    }
    if (text.empty()) text = serving.left.empty() ? "as it is" : "left as it is";
    const std::string lead = fmt::format("  {:<16}", body(b.body).label + "  ");
    page_.paragraph(lead, text);
    write_leaves(std::string(std::min<size_t>(columns(lead), 18), ' '), serving);
  }

  void write_leaves(const std::string& lead, const Serving& serving) {
    if (serving.left.empty()) return;
    std::string text = "leaves ";
    for (size_t i = 0; i < std::min(kNamed, serving.left.size()); ++i) {
      const Finding& f = serving.left[i];
      text += fmt::format("{}{} {}", i == 0 ? "" : ", ", f.name, miss_of(f, unit_));
    }
    if (serving.left.size() > kNamed)
      text += fmt::format(", and {} more", serving.left.size() - kNamed);
    page_.paragraph(lead, text);
  }

  void write_own() {
    if (count(Way::own) == 0) return;
    page_.gap();
    if (!tell_each()) {
      std::string labels;
      for (const SizedBody& b : sizes_.bodies)
        if (b.needs_own) labels += (labels.empty() ? "" : ", ") + body(b.body).label;
      page_.paragraph("Own draft ", labels, Tone::bad);
      return;
    }
    page_.paragraph("Own draft ",
                    "in the nearest of these drafts they would still miss, after all that helps:",
                    Tone::bad);
    for (const SizedBody& b : sizes_.bodies) {
      if (!b.needs_own) continue;
      const std::string lead = fmt::format("  {:<16}", body(b.body).label + "  ");
      if (b.draft < 0) {
        page_.paragraph(lead, "none of the drafts can be computed on this body");
        continue;
      }
      const Serving& s = b.serving;
      std::string text = body(sizes_.drafts[static_cast<size_t>(b.draft)]).label + "'s: ";
      text += s.left.empty() ? write_minutes(s.minutes) + " of work"
                             : plural(s.left.size(), "rule", "rules") + ", first of all " +
                                   s.left.front().name;
      page_.paragraph(lead, text);
    }
  }

  void write_left_out() {
    if (sized_.left_out.empty() && sizes_.refused.empty()) return;
    page_.gap();
    std::string text;
    const auto add = [&text](const std::string& label) {
      text += (text.empty() ? "" : ", ") + label;
    };
    for (const LeftOutBody& b : sized_.left_out)
      add(b.label.empty() ? fmt::format("row {}", b.row) : b.label);
    for (const int i : sizes_.refused) add(body(i).label);
    page_.paragraph("Left out  ", text, Tone::bad);
  }

  void write_proof() {
    if (sizes_.bodies.empty()) return;
    page_.gap();
    const SizesOptions& o = sized_.options;
    page_.paragraph(
        "Weighed   ",
        fmt::format("a miss of one tolerance beyond what is felt as {} of work, a garment of one's "
                    "own as {}",
                    write_minutes(o.minutes_per_miss),
                    write_minutes(o.own_minutes)));
    std::string text;
    if (sizes_.proved) {
      text = sizes_.all_planned
                 ? "no other choice of so many drafts costs less"
                 : "of what was weighed no other choice of so many drafts costs less";
    } else {
      const double gap = sizes_.cost > 0 ? 100 * (sizes_.cost - sizes_.bound) / sizes_.cost : 0;
      text = fmt::format("no choice of so many drafts costs {} % less{}",
                         std::max(std::ceil(gap), 1.0),
                         sizes_.all_planned ? "" : " by what was weighed");
    }
    if (!sizes_.all_planned)
      text += fmt::format(
          "; each body was planned in the {} drafts that are nearest to it of {}, "
          "and in those chosen",
          sizes_.planned,
          sizes_.candidates);
    if (!tell_each()) text += ". Each body's moves: --all, or --json";
    page_.paragraph("          ",
                    text + ". Plans are good, not proved shortest: `alter` looks longer");
  }

  const Sized& sized_;
  const Sizes& sizes_;
  Page& page_;
  LengthUnit unit_;
};

Json json_of(const PlanStep& step) {
  Json json = quantity(step.amount, info(step.move->change).dimension);
  json["move"] = step.move->name;
  json["minutes"] = number(step.minutes);
  return json;
}

Json json_of(const Finding& f) {
  Json json;
  json["name"] = f.name;
  json["strength"] = to_string(f.strength);
  json["miss"] = number(outside(f.miss, f.dimension).get<double>());
  json["unit"] = unit_name(f.dimension);
  return json;
}

Json json_of(const SizedBody& b, const Sized& sized) {
  const auto at = static_cast<size_t>(b.body);
  Json json;
  json["row"] = sized.rows[at];
  json["body"] = sized.bodies[at].label;
  json["served"] = word(way_of(b));
  json["draft"] =
      b.draft < 0
          ? Json(nullptr)
          : Json(sized.bodies[static_cast<size_t>(sized.sizes.drafts[static_cast<size_t>(b.draft)])]
                     .label);
  json["minutes"] = number(b.serving.minutes);
  json["cost"] = number(b.serving.cost);
  json["steps"] = Json::array();
  for (const PlanStep& step : b.serving.steps) json["steps"].push_back(json_of(step));
  json["left"] = Json::array();
  for (const Finding& f : b.serving.left) json["left"].push_back(json_of(f));
  return json;
}

}  // namespace

bool serves_all(const Sized& sized) {
  return std::none_of(sized.sizes.bodies.begin(), sized.sizes.bodies.end(), [](const SizedBody& b) {
    return b.needs_own;
  });
}

std::string write_sizes(const Sized& sized, Colour colour) {
  Page page(colour);
  Writer(sized, page).write();
  return page.text();
}

std::string write_sizes_json(const Sized& sized) {
  const Sizes& sizes = sized.sizes;
  Json json;
  json["job"] = {{"file", sized.file},
                 {"job", sized.job->label},
                 {"style", sized.job->style.label},
                 {"cloth", sized.job->cloth.label},
                 {"bodies", sized.bodies_file}};
  json["drafts"] = Json::array();
  for (size_t d = 0; d < sizes.drafts.size(); ++d) {
    const auto at = static_cast<size_t>(sizes.drafts[d]);
    const auto served = std::count_if(sizes.bodies.begin(), sizes.bodies.end(), [&](const auto& b) {
      return b.draft == static_cast<int>(d) && !b.needs_own;
    });
    json["drafts"].push_back(
        {{"row", sized.rows[at]}, {"body", sized.bodies[at].label}, {"serves", served}});
  }
  json["bodies"] = Json::array();
  for (const SizedBody& b : sizes.bodies) json["bodies"].push_back(json_of(b, sized));
  json["left out"] = Json::array();
  for (const LeftOutBody& b : sized.left_out)
    json["left out"].push_back({{"row", b.row}, {"body", b.label}});
  for (const int i : sizes.refused) {
    const auto at = static_cast<size_t>(i);
    json["left out"].push_back({{"row", sized.rows[at]}, {"body", sized.bodies[at].label}});
  }
  json["weighed"] = {{"minutes for a tolerance", number(sized.options.minutes_per_miss)},
                     {"minutes for an own garment", number(sized.options.own_minutes)},
                     {"cost", number(sizes.cost)},
                     {"bound", number(sizes.bound)},
                     {"proved", sizes.proved},
                     {"candidates", sizes.candidates},
                     {"planned each", sizes.planned},
                     {"all pairs", sizes.all_planned}};
  return document_of("sizes", json);
}

}  // namespace easewright
