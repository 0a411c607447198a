#include "cli/commands/cut.h"

#include "cli/commands/lay.h"
#include "cli/commands/load.h"
#include "cli/draw/lettering.h"
#include "cli/draw/pattern_book.h"
#include "cli/draw/pdf.h"
#include "cli/draw/svg.h"
#include "cli/write/cut.h"
#include "cli/write/cut_words.h"
#include "cli/write/file.h"
#include "cli/write/report.h"
#include "cli/write/slip.h"
#include "cli/write/verdict.h"
#include "model/fit.h"
#include "model/pattern/cut_line.h"

#include <algorithm>
#include <deque>

#include <fmt/format.h>
#include <unistd.h>

namespace easewright {
namespace {

/// What the files are called; each stands for itself once it has left its folder.
constexpr const char* kPattern = "pattern";
constexpr const char* kPlan = "cutting-plan";
constexpr const char* kSlip = "slip.txt";

draw::Paper paper_of(const Options& options, LengthUnit unit) {
  return options.paper.value_or(unit == LengthUnit::inch ? draw::Paper::letter : draw::Paper::a4);
}

draw::Heading heading_of(const Judged& judged, const std::string& date) {
  const Job& job = *judged.job;
  const Verdict verdict = verdict_of(judged.result);
  draw::Heading heading;
  const auto brief = [](const std::string& label) { return draw::shortened(label, kMostLabel); };
  heading.job = brief(job.label);
  heading.about = fmt::format(
      "for {}; {}, of {}", brief(job.body.label), brief(job.style.label), brief(job.cloth.label));
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

/// Pieces whose lines are no sound outline: they are drawn, and said to be.
std::vector<std::string> cautions_of(const std::vector<Piece>& pieces) {
  std::vector<std::string> cautions;
  for (const Piece& piece : pieces)
    for (const std::string& fault : faults_of(piece)) cautions.push_back(fault);
  return cautions;
}

/// 'alto 2' -> 'alto-2': a folder's name for each garment of a group, none twice.
std::vector<std::string> folder_names(const std::vector<LoadedJob>& jobs) {
  std::vector<std::string> names;
  for (const LoadedJob& job : jobs) {
    std::string name;
    for (const char c : job.job.body.label) {
      const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
      if (plain) {
        name += c;
      } else if (!name.empty() && name.back() != '-') {
        name += '-';
      }
    }
    while (!name.empty() && name.back() == '-') name.pop_back();
    if (name.empty()) name = "job";
    std::string own = name;
    for (int n = 2; std::find(names.begin(), names.end(), own) != names.end(); ++n)
      own = fmt::format("{}-{}", name, n);
    names.push_back(own);
  }
  return names;
}

/// 'out' and 'pattern.pdf' -> 'out/pattern.pdf'.
std::string inside(const std::string& folder, const std::string& name) {
  return folder.ends_with('/') ? folder + name : folder + "/" + name;
}

class Cutting {
 public:
  explicit Cutting(const Options& options) : options_(options) {}

  /// Fits and draws one job into its folder.
  void add(const LoadedJob& job,
           const Allowances& allowances,
           const Catalogue& catalogue,
           const std::string& folder) {
    CutGarment& garment = cut_.garments.emplace_back();
    garment.judged.file = job.file;
    garment.judged.job = &job.job;
    garment.judged.result = fit(job.job, catalogue);
    if (!has_answer(garment.judged.result)) return;
    const PieceLabels labels{draw::shortened(job.job.body.label, kMostLabel),
                             draw::shortened(job.job.label, kMostLabel),
                             options_.date,
                             job.job.unit};
    garment.pieces = pieces_of(garment.judged.result, allowances, labels);
    garment.pairs = seam_pairs(garment.pieces);
    garment.cautions = cautions_of(garment.pieces);
    draw_pattern(garment, folder);
    const Slip slip = slip_of(garment.judged.result, garment.pieces, job.job.unit);
    write(garment.files,
          inside(folder, kSlip),
          write_slip(garment.judged, slip),
          "what is sewn, in order, with every length");
  }

  /// Notes on what of the bodies can't be, each with its place.
  void complain(const std::vector<LoadedJob>& jobs, Complaints& complaints) const {
    for (size_t i = 0; i < jobs.size(); ++i)
      complain_of_body(cut_.garments[i].judged.result.completed.notes, jobs[i].places, complaints);
  }

  void draw_plan() {
    const bool group = cut_.garments.size() > 1;
    std::vector<GarmentPieces> garments;
    for (const CutGarment& garment : cut_.garments) {
      if (garment.pieces.empty()) continue;
      garments.push_back({group ? draw::shortened(garment.judged.job->body.label, kMostName) : "",
                          garment.pieces});
    }
    if (garments.empty()) return;
    const Job& job = *cut_.garments.front().judged.job;
    cut_.plans = plan_cutting(options_, garments, job.cloth);
    const std::string title =
        group ? fmt::format("{} garments of {}", garments.size(), job.cloth.label)
              : draw::shortened(job.label, kMostLabel);
    const draw::PlanDrawing drawing =
        draw::draw_plans(cut_.plans, garments, plan_headings(cut_.plans, job), title);
    const draw::About about{title + ": cutting plan", "how the pieces lie on the cloth"};
    const std::string base = inside(options_.out, kPlan);
    write(
        cut_.files, base + ".pdf", draw::pdf_of(drawing.pages, about), "how they lie on the cloth");
    write(cut_.files, base + ".svg", draw::svg_of(drawing.sheet, about), "the same, on one page");
  }

  int deliver_all(const std::vector<std::string>& folders) {
    const bool holds = std::all_of(cut_.garments.begin(),
                                   cut_.garments.end(),
                                   [](const CutGarment& g) { return fits(g.judged.result); });
    const int code = holds ? kAllHolds : kSomethingMissed;
    const std::string text = write_cut(cut_, colour_of_terminal(STDOUT_FILENO));
    if (files_.empty()) return deliver({}, text, code);
    std::deque<StagedFolder> made(folders.size());
    for (size_t i = 0; i < folders.size(); ++i) {
      const std::string why = made[i].make(folders[i]);
      if (why.empty()) continue;
      Complaints complaints;
      complaints.add(folders[i], {}, "", why);
      return refuse(complaints);
    }
    const int done = deliver(files_, text, code);
    if (done == code)
      for (StagedFolder& folder : made) folder.keep();
    return done;
  }

 private:
  void write(std::vector<CutFile>& told,
             const std::string& path,
             std::string bytes,
             const std::string& about) {
    told.push_back({path, about});
    files_.push_back({path, std::move(bytes)});
  }

  void draw_pattern(CutGarment& garment, const std::string& folder) {
    const Job& job = *garment.judged.job;
    const draw::Paper paper = paper_of(options_, job.unit);
    const draw::Heading heading = heading_of(garment.judged, options_.date);
    const draw::About about{heading.job + ": pattern", heading.verdict};
    const auto book_on = [&](draw::Paper on) {
      return draw::pattern_book(garment.pieces, heading, on, job.cloth.nap);
    };
    const std::string base = inside(folder, kPattern);
    const draw::PatternBook whole = book_on(draw::Paper::whole);
    const draw::Page& sheet = whole.pages.front();
    if (paper == draw::Paper::whole) {
      write(garment.files,
            base + ".pdf",
            draw::pdf_of(whole.pages, about),
            fmt::format("one sheet, {:.1f} x {:.1f} cm", sheet.width, sheet.height));
    } else {
      const draw::PatternBook book = book_on(paper);
      write(garment.files,
            base + ".pdf",
            draw::pdf_of(book.pages, about),
            fmt::format("{} sheets of {}; print the first alone and measure its square",
                        book.pages.size(),
                        to_string(paper)));
    }
    write(garment.files, base + ".svg", draw::svg_of(sheet, about), "all of it at true scale");
  }

  const Options& options_;
  CutOut cut_;
  std::vector<Wanted> files_;
};

/// One plan is of one cloth; each job's own allowances.
std::vector<Allowances> read_all_allowances(const std::vector<LoadedJob>& jobs,
                                            const Options& options,
                                            Complaints& complaints) {
  std::vector<Allowances> all;
  for (const LoadedJob& job : jobs) {
    all.push_back(allowances_of(job, complaints));
    const Cloth &first = jobs.front().job.cloth, &cloth = job.job.cloth;
    if (options.plan == Plan::drawn && cloth.label != first.label)
      complaints.add(
          job.file,
          {},
          "cloth",
          fmt::format("is {}, the first job's is {}: one cutting plan is of one cloth (--no-plan)",
                      cloth.label,
                      first.label));
  }
  return all;
}

}  // namespace

int run_cut(const Options& options) {
  Complaints complaints;
  const auto loaded = load(options, Draft::optional, complaints);
  if (!loaded) return refuse(complaints);
  const auto allowances = read_all_allowances(loaded->jobs, options, complaints);
  if (!complaints.empty()) return refuse(complaints);
  const bool group = loaded->jobs.size() > 1;
  std::vector<std::string> folders{options.out};
  if (group) {
    for (const std::string& name : folder_names(loaded->jobs))
      folders.push_back(inside(options.out, name));
  }
  Cutting cutting(options);
  for (size_t i = 0; i < loaded->jobs.size(); ++i)
    cutting.add(loaded->jobs[i], allowances[i], loaded->catalogue, folders[group ? i + 1 : 0]);
  cutting.complain(loaded->jobs, complaints);
  if (!complaints.empty()) return refuse(complaints);
  if (options.plan == Plan::drawn) cutting.draw_plan();
  return cutting.deliver_all(folders);
}

}  // namespace easewright
