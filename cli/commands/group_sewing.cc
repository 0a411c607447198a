#include "cli/commands/group_sewing.h"

#include "cli/commands/lay.h"
#include "cli/draw/lettering.h"
#include "cli/draw/pdf.h"
#include "cli/draw/svg.h"
#include "cli/read/csv.h"
#include "cli/write/cut_words.h"
#include "model/fit.h"
#include "model/pattern/pieces.h"

#include <algorithm>
#include <set>

#include <fmt/format.h>
#include <tbb/parallel_for.h>

namespace easewright {
namespace {

/// One body's garment.
struct Sewn {
  std::string who;
  std::uint32_t row = 0;
  std::vector<Piece> pieces;
  Values<double> values{};
  bool belt = false;
};

double longest_side(const Piece& piece) {
  double least[2] = {1e9, 1e9}, most[2] = {-1e9, -1e9};
  for (const auto& p : piece.cut) {
    const double at[2] = {p.x, p.y};
    for (int k = 0; k < 2; ++k) {
      least[k] = std::min(least[k], at[k]);
      most[k] = std::max(most[k], at[k]);
    }
  }
  return std::max(most[0] - least[0], most[1] - least[1]);
}

std::vector<Sewn> sew_all(const GroupRun& run, const Allowances& allowances, Bodies& bodies) {
  std::set<std::uint32_t> drafted;
  for (const Member& m : run.members) drafted.insert(m.row);
  std::vector<BodyRow> rows;
  bodies.rewind();
  BodyRow row;
  for (std::uint32_t at = 1; at <= run.range.last && bodies.next(row); ++at)
    if (drafted.count(row.row) > 0) rows.push_back(row);
  std::vector<Sewn> all(rows.size());
  tbb::parallel_for(size_t{0}, rows.size(), [&](size_t i) {
    Job job = run.job->job;
    job.body = rows[i].body;
    const FitResult result = fit(job, *run.catalogue);
    Sewn& sewn = all[i];
    sewn.who = draw::shortened(job.body.label, kMostName);
    sewn.row = rows[i].row;
    if (result.posed == nullptr) return;
    sewn.values = result.values;
    const PieceLabels labels{draw::shortened(job.body.label, kMostLabel), sewn.who, "", job.unit};
    sewn.pieces = pieces_of(result, allowances, labels);
    sewn.belt = std::any_of(
        sewn.pieces.begin(), sewn.pieces.end(), [](const Piece& p) { return p.name == "belt"; });
  });
  std::erase_if(all, [](const Sewn& s) { return s.pieces.empty(); });
  return all;
}

/// A row a piece; lengths in cm, as all tables of ours.
std::string cut_list(const std::vector<Sewn>& all) {
  std::string text = "row,body,piece,of,pieces,how,cut length (cm)\n";
  for (const Sewn& sewn : all) {
    for (const Piece& piece : sewn.pieces)
      text += fmt::format("{},{},{},{},{},{},{:.1f}\n",
                          sewn.row,
                          csv_cell(sewn.who),
                          csv_cell(piece.name),
                          material_words(piece.cut_of),
                          piece.count,
                          csv_cell(count_words(piece)),
                          longest_side(piece));
  }
  return text;
}

}  // namespace

void check_sewing(const Options& options, const RowRange& range, Complaints& complaints) {
  if (!options.sewing || range.size() <= kMostSewn) return;
  complaints.add("--sewing",
                 {},
                 "",
                 fmt::format("{} garments are too many for one plan, {} at most; take some of them "
                             "with --rows",
                             range.size(),
                             kMostSewn));
}

SewingSums sew_group(const Options& options,
                     const GroupRun& run,
                     const Allowances& allowances,
                     Bodies& bodies,
                     std::vector<Wanted>& files) {
  const std::vector<Sewn> all = sew_all(run, allowances, bodies);
  SewingSums sums;
  sums.garments = all.size();
  if (all.empty()) return sums;
  std::vector<GarmentPieces> garments;
  for (const Sewn& sewn : all) {
    garments.push_back({sewn.who, sewn.pieces});
    for (const Piece& piece : sewn.pieces)
      if (piece.cut_of == CutOf::elastic) sums.elastic += longest_side(piece) * piece.count;
    if (!sewn.belt) continue;
    ++sums.belts;
    sums.belt += sewn.values[ValueKey::belt_length];
  }
  const Job& job = run.job->job;
  const auto plans = plan_cutting(options, garments, job.cloth);
  for (const CuttingPlan& plan : plans) {
    const std::string what = plan.material == CutOf::lining ? "lining" : job.cloth.label;
    sums.buy.push_back(
        plan.plan.error.empty()
            ? fmt::format("{}, {}: {}", what, lay_words(plan, job.unit), buy_words(plan))
            : fmt::format("{}: no cutting plan: {}", what, plan.plan.error));
  }
  if (options.out.empty()) return sums;
  const std::string title = fmt::format("{} garments of {}", all.size(), job.cloth.label);
  const draw::PlanDrawing drawing =
      draw::draw_plans(plans, garments, plan_headings(plans, job), title);
  const draw::About about{title + ": cutting plan", "how the pieces lie on the cloth"};
  files.push_back({options.out + "/cutting-plan.pdf", draw::pdf_of(drawing.pages, about)});
  files.push_back({options.out + "/cutting-plan.svg", draw::svg_of(drawing.sheet, about)});
  files.push_back({options.out + "/cut-list.csv", cut_list(all)});
  for (const char* name : {"cutting-plan.pdf", "cutting-plan.svg", "cut-list.csv"})
    sums.files.push_back(options.out + "/" + name);
  return sums;
}

}  // namespace easewright
