#include "cli/write/cut.h"

#include "cli/write/cut_words.h"
#include "cli/write/report.h"
#include "cli/write/verdict.h"

#include <fmt/format.h>

namespace easewright {
namespace {

/// Misses that are told; `fit` tells all.
constexpr size_t kTold = 3;

void write_verdict(Page& page, const CutOut& cut) {
  const FitResult& result = cut.judged->result;
  const Verdict verdict = verdict_of(result);
  page.paragraph(verdict.head, verdict.rest, verdict.good ? Tone::good : Tone::bad);
  if (verdict.good) return;
  size_t told = 0, more = 0;
  for (const Finding& f : result.findings) {
    if (!f.missed || f.strength > solver::Level::should) continue;
    if (told++ < kTold) {
      page.paragraph("  ", miss_sentence(f, cut.judged->job->unit));
    } else {
      ++more;
    }
  }
  if (more > 0) page.paragraph("  ", fmt::format("and {} more", more));
  page.paragraph("  ", "the pattern is drawn as it came out: see `easewright fit` before cutting");
}

void write_pieces(Page& page, const CutOut& cut) {
  std::string lead = "Pieces    ";
  for (const Piece& piece : cut.pieces) {
    page.paragraph(lead, cut_words(piece, cut.judged->job->unit), Tone::bold);
    lead = "          ";
  }
}

void write_seams(Page& page, const CutOut& cut) {
  std::string lead = "Seams     ";
  for (const SeamPair& pair : cut.pairs) {
    const PairWords words = pair_words(pair, cut.judged->job->unit);
    page.paragraph(lead, words.seam + ", " + words.lengths, Tone::bold);
    lead = "          ";
  }
}

void write_plans(Page& page, const CutOut& cut) {
  for (const CuttingPlan& plan : cut.plans) {
    const bool lining = plan.material == CutOf::lining;
    const std::string lead = lining ? "Lining    " : "Cloth     ";
    if (!plan.plan.error.empty()) {
      page.paragraph(lead, "no cutting plan: " + plan.plan.error, Tone::bad);
      continue;
    }
    const std::string what = lining ? "" : cut.judged->job->cloth.label + ", ";
    page.paragraph(lead,
                   fmt::format("{}{}: {}; {}",
                               what,
                               lay_words(plan, cut.judged->job->unit),
                               buy_words(plan),
                               filled_words(plan)),
                   Tone::bold);
  }
}

}  // namespace

std::string write_cut(const CutOut& cut, Colour colour) {
  Page page(colour);
  page.line(title_of(*cut.judged), Tone::bold);
  write_verdict(page, cut);
  if (cut.files.empty()) return page.text();
  page.gap();
  std::string lead = "Written   ";
  for (const CutOut::File& file : cut.files) {
    page.paragraph(lead, fmt::format("{}: {}", file.path, file.about), Tone::bold);
    lead = "          ";
  }
  write_pieces(page, cut);
  write_seams(page, cut);
  write_plans(page, cut);
  lead = "Caution   ";
  for (const std::string& caution : cut.cautions) {
    page.paragraph(lead, caution, Tone::bad);
    lead = "          ";
  }
  return page.text();
}

}  // namespace easewright
