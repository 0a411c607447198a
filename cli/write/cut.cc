#include "cli/write/cut.h"

#include "cli/write/cut_words.h"
#include "cli/write/report.h"
#include "cli/write/verdict.h"

#include <fmt/format.h>

namespace easewright {
namespace {

/// Misses that are told; `fit` tells all.
constexpr size_t kTold = 3;

/// Lines that begin with one word in front of the first.
class Listed {
 public:
  Listed(Page& page, const char* lead, Tone tone = Tone::bold)
      : page_(page), lead_(fmt::format("{:<10}", lead)), tone_(tone) {}

  void add(const std::string& text) {
    page_.paragraph(lead_, text, tone_);
    lead_.assign(10, ' ');
  }

 private:
  Page& page_;
  std::string lead_;
  Tone tone_;
};

void write_verdict(Page& page, const Judged& judged) {
  const Verdict verdict = verdict_of(judged.result);
  page.paragraph(verdict.head, verdict.rest, verdict.good ? Tone::good : Tone::bad);
  if (verdict.good) return;
  size_t missed = 0;
  for (const Finding& f : judged.result.findings) {
    if (!f.missed || f.strength > solver::Level::should) continue;
    if (++missed <= kTold) page.paragraph("  ", miss_sentence(f, judged.job->unit));
  }
  if (missed > kTold) page.paragraph("  ", fmt::format("and {} more", missed - kTold));
  if (has_answer(judged.result))
    page.paragraph("  ",
                   "the pattern is drawn as it came out: see `easewright fit` before cutting");
}

void write_files(Page& page, const std::vector<CutFile>& files) {
  Listed listed(page, "Written");
  for (const CutFile& file : files) listed.add(fmt::format("{}: {}", file.path, file.about));
}

void write_pieces(Page& page, const CutGarment& garment) {
  Listed listed(page, "Pieces");
  for (const Piece& piece : garment.pieces) listed.add(cut_words(piece, garment.judged.job->unit));
}

void write_seams(Page& page, const CutGarment& garment) {
  Listed listed(page, "Seams");
  for (const SeamPair& pair : garment.pairs) {
    const PairWords words = pair_words(pair, garment.judged.job->unit);
    listed.add(words.seam + ", " + words.lengths);
  }
}

void write_cautions(Page& page, const CutGarment& garment) {
  Listed listed(page, "Caution", Tone::bad);
  for (const std::string& caution : garment.cautions) listed.add(caution);
}

void write_plans(Page& page, const CutOut& cut) {
  const Job& job = *cut.garments.front().judged.job;
  for (const CuttingPlan& plan : cut.plans) {
    const bool lining = plan.material == CutOf::lining;
    const std::string lead = lining ? "Lining    " : "Cloth     ";
    if (!plan.plan.error.empty()) {
      page.paragraph(lead, "no cutting plan: " + plan.plan.error, Tone::bad);
      continue;
    }
    page.paragraph(lead,
                   fmt::format("{}{}: {}; {}",
                               lining ? "" : job.cloth.label + ", ",
                               lay_words(plan, job.unit),
                               buy_words(plan),
                               filled_words(plan)),
                   Tone::bold);
  }
}

}  // namespace

std::string write_cut(const CutOut& cut, Colour colour) {
  Page page(colour);
  const bool alone = cut.garments.size() == 1;
  for (const CutGarment& garment : cut.garments) {
    page.line(title_of(garment.judged), Tone::bold);
    write_verdict(page, garment.judged);
    if (alone && !garment.files.empty()) page.gap();
    std::vector<CutFile> files = garment.files;
    if (alone) files.insert(files.end(), cut.files.begin(), cut.files.end());
    write_files(page, files);
    if (alone) {
      write_pieces(page, garment);
      write_seams(page, garment);
    }
    write_cautions(page, garment);
    if (!alone) page.gap();
  }
  if (!alone) write_files(page, cut.files);
  write_plans(page, cut);
  return page.text();
}

}  // namespace easewright
