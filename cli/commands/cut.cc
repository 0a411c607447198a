#include "cli/commands/cut.h"

#include "cli/commands/load.h"
#include "cli/draw/pattern_book.h"
#include "cli/draw/pdf.h"
#include "cli/draw/plan_drawing.h"
#include "cli/draw/svg.h"
#include "cli/write/cut.h"
#include "cli/write/cut_words.h"
#include "cli/write/file.h"
#include "cli/write/report.h"
#include "cli/write/verdict.h"
#include "model/fit.h"
#include "model/pattern/cut_line.h"

#include <algorithm>

#include <fmt/format.h>
#include <unistd.h>

namespace easewright {
namespace {

/// What the files are called; each stands for itself once it has left its folder.
constexpr const char* kPattern = "pattern";
constexpr const char* kPlan = "cutting-plan";

draw::Paper paper_of(const Options& options, LengthUnit unit) {
  return options.paper.value_or(unit == LengthUnit::inch ? draw::Paper::letter : draw::Paper::a4);
}

draw::Heading heading_of(const Judged& judged, const std::string& date) {
  const Job& job = *judged.job;
  const Verdict verdict = verdict_of(judged.result);
  draw::Heading heading;
  heading.job = job.label;
  heading.about =
      fmt::format("for {}; {}, of {}", job.body.label, job.style.label, job.cloth.label);
  if (!date.empty()) heading.about += "; " + date;
  heading.verdict = verdict.head + verdict.rest;
  heading.fits = verdict.good;
  heading.unit = job.unit;
  for (const Finding& f : judged.result.findings) {
    if (f.missed && f.strength <= solver::Level::should)
      heading.misses.push_back(miss_sentence(f, job.unit));
  }
  return heading;
}

/// Folded, as cloth is sold and cut at home; but one way and prints want a single layer (common
/// practice).
Layering layering_of(const Options& options, const Cloth& cloth) {
  const bool matched = cloth.nap || cloth.repeat_length > 0 || cloth.repeat_width > 0;
  return options.layering.value_or(matched ? Layering::single : Layering::folded);
}

bool can_be_laid(const std::vector<CuttingPlan>& plans) {
  return std::all_of(
      plans.begin(), plans.end(), [](const CuttingPlan& p) { return p.plan.error.empty(); });
}

/// Where nothing was said of layers and a piece is wider than the folded cloth, a single one.
std::vector<CuttingPlan> plan_cutting(const Options& options,
                                      const std::vector<GarmentPieces>& garments,
                                      const Cloth& cloth) {
  CuttingOptions how;
  how.layering = layering_of(options, cloth);
  auto plans = cutting_plans(garments, cloth, how);
  if (can_be_laid(plans) || options.layering) return plans;
  how.layering = Layering::single;
  return cutting_plans(garments, cloth, how);
}

std::vector<draw::PlanHeading> plan_headings(const std::vector<CuttingPlan>& plans,
                                             const Job& job) {
  std::vector<draw::PlanHeading> headings;
  for (const CuttingPlan& plan : plans) {
    const std::string what =
        plan.material == CutOf::lining ? "Lining" : "Cloth: " + job.cloth.label;
    headings.push_back(
        {what + ", " + lay_words(plan, job.unit), {buy_words(plan) + "; " + filled_words(plan)}});
  }
  return headings;
}

/// Pieces whose lines are no sound outline: they are drawn, and said to be.
std::vector<std::string> cautions_of(const std::vector<Piece>& pieces) {
  std::vector<std::string> cautions;
  for (const Piece& piece : pieces)
    for (const std::string& fault : faults_of(piece)) cautions.push_back(fault);
  return cautions;
}

class Cutting {
 public:
  Cutting(const Options& options, const Judged& judged) : options_(options), judged_(judged) {
    cut_.judged = &judged;
  }

  void draw(const Allowances& allowances) {
    const Job& job = *judged_.job;
    const draw::Paper paper = paper_of(options_, job.unit);
    const PieceLabels labels{job.body.label, job.label, options_.date, job.unit};
    cut_.pieces = pieces_of(judged_.result, allowances, labels);
    cut_.pairs = seam_pairs(cut_.pieces);
    cut_.cautions = cautions_of(cut_.pieces);
    draw_pattern(paper);
    if (options_.plan == Plan::drawn) draw_plan();
  }

  int deliver_all() {
    StagedFolder folder;
    if (const std::string why = folder.make(options_.out); !why.empty()) {
      Complaints complaints;
      complaints.add(options_.out, {}, "", why);
      return refuse(complaints);
    }
    const int code = fits(judged_.result) ? kAllHolds : kSomethingMissed;
    const int done = deliver(files_, write_cut(cut_, colour_of_terminal(STDOUT_FILENO)), code);
    if (done == code) folder.keep();
    return done;
  }

 private:
  void add(const std::string& name, std::string bytes, const std::string& about) {
    std::string path = options_.out;
    if (path.back() != '/') path += '/';
    cut_.files.push_back({path + name, about});
    files_.push_back({path + name, std::move(bytes)});
  }

  void draw_pattern(draw::Paper paper) {
    const draw::Heading heading = heading_of(judged_, options_.date);
    const bool nap = judged_.job->cloth.nap;
    const draw::About about{heading.job + ": pattern", heading.verdict};
    const draw::PatternBook whole =
        draw::pattern_book(cut_.pieces, heading, draw::Paper::whole, nap);
    if (paper == draw::Paper::whole) {
      add(std::string(kPattern) + ".pdf",
          draw::pdf_of(whole.pages, about),
          fmt::format("one sheet, {:.1f} x {:.1f} cm",
                      whole.pages.front().width,
                      whole.pages.front().height));
    } else {
      const draw::PatternBook book = draw::pattern_book(cut_.pieces, heading, paper, nap);
      add(std::string(kPattern) + ".pdf",
          draw::pdf_of(book.pages, about),
          fmt::format("{} sheets of {}; print the first alone and measure its square",
                      book.pages.size(),
                      to_string(paper)));
    }
    add(std::string(kPattern) + ".svg",
        draw::svg_of(whole.pages.front(), about),
        "all of it at true scale");
  }

  void draw_plan() {
    const Job& job = *judged_.job;
    const std::vector<GarmentPieces> garments{{"", cut_.pieces}};
    cut_.plans = plan_cutting(options_, garments, job.cloth);
    const draw::PlanDrawing drawing =
        draw::draw_plans(cut_.plans, garments, plan_headings(cut_.plans, job), job.label);
    const draw::About about{job.label + ": cutting plan", "how the pieces lie on the cloth"};
    add(std::string(kPlan) + ".pdf",
        draw::pdf_of(drawing.pages, about),
        "how they lie on the cloth");
    add(std::string(kPlan) + ".svg", draw::svg_of(drawing.sheet, about), "the same, on one page");
  }

  const Options& options_;
  const Judged& judged_;
  CutOut cut_;
  std::vector<Wanted> files_;
};

}  // namespace

int run_cut(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  if (!loaded) return refuse(complaints);
  const LoadedJob& job = loaded->jobs.front();
  const Allowances allowances = allowances_of(job, complaints);
  Judged judged;
  judged.file = job.file;
  judged.job = &job.job;
  judged.result = fit(job.job, loaded->catalogue);
  complain_of_body(judged.result.completed.notes, job.places, complaints);
  if (!complaints.empty()) return refuse(complaints);
  if (!has_answer(judged.result)) {
    CutOut nothing;
    nothing.judged = &judged;
    return deliver({}, write_cut(nothing, colour_of_terminal(STDOUT_FILENO)), kSomethingMissed);
  }
  Cutting cutting(options, judged);
  cutting.draw(allowances);
  return cutting.deliver_all();
}

}  // namespace easewright
