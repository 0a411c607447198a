// What is cut from what: every piece of every garment once, on the cloth as the wash leaves it.
#include "model/pattern/cutting.h"
#include "model/pattern/pieces.h"
#include "tests/catch.h"
#include "tests/model/demo.h"
#include "tests/model/nest_check.h"

#include <set>

namespace easewright::tests {
namespace {

GarmentPieces garment_of(const std::string& job, const std::string& who) {
  return {who, pieces_of(fit(demo_job("choir/jobs/" + job + ".yaml"), shipped_catalogue()))};
}

const std::vector<GarmentPieces>& three_altos() {
  static const std::vector<GarmentPieces> garments{garment_of("alto-1", "alto 1"),
                                                   garment_of("alto-2", "alto 2"),
                                                   garment_of("mezzo-1", "mezzo 1")};
  return garments;
}

Cloth plain_cloth() {
  Cloth cloth;
  cloth.label = "plain";
  cloth.width = 150;
  return cloth;
}

/// Whole pieces of a material, as the garments ask for them.
long wanted(const std::vector<GarmentPieces>& garments, CutOf material) {
  long count = 0;
  for (const GarmentPieces& g : garments) {
    for (const Piece& p : g.pieces) count += p.cut_of == material ? p.count : 0;
  }
  return count;
}

}  // namespace

TEST_CASE("cloth and lining are planned apart, each piece of each garment once, by name") {
  for (const Layering layering : {Layering::single, Layering::folded}) {
    const std::vector<CuttingPlan> plans =
        cutting_plans(three_altos(), plain_cloth(), {.layering = layering, .lining_width = 144});
    REQUIRE(plans.size() == 2);
    CHECK(plans[0].material == CutOf::cloth);
    CHECK(plans[1].material == CutOf::lining);
    CHECK(plans[0].cloth.width == 150);
    CHECK(plans[1].cloth.width == 144);
    for (const CuttingPlan& plan : plans) {
      CAPTURE(plan.plan.error);
      CHECK(faults_of(plan.plan, plan.shapes, plan.cloth).empty());
      REQUIRE(plan.sources.size() == plan.shapes.size());
      REQUIRE(plan.names.size() == plan.plan.placed.size());
      long cut = 0;
      for (size_t i = 0; i < plan.names.size(); ++i) {
        const Placed& placed = plan.plan.placed[i];
        const CutSource& source = plan.sources[static_cast<size_t>(placed.shape)];
        const GarmentPieces& garment = three_altos()[source.garment];
        const Piece& piece = garment.pieces[source.piece];
        CHECK(piece.cut_of == plan.material);
        CHECK(plan.names[i].rfind(garment.who + ": " + piece.name, 0) == 0);
        cut += placed.copies;
      }
      CHECK(cut == wanted(three_altos(), plan.material));
      // Rounded up to the next tenth and the next eighth, no further.
      CHECK(plan.to_buy.metres >= plan.plan.length / 100 - 1e-9);
      CHECK(plan.to_buy.metres < plan.plan.length / 100 + 0.1);
      CHECK(plan.to_buy.yards >= plan.plan.length / 91.44 - 1e-9);
      CHECK(plan.to_buy.yards < plan.plan.length / 91.44 + 0.125);
    }
  }
}

TEST_CASE("the names tell the twin that is flipped, strips apart, and what is cut twice at once") {
  const std::vector<GarmentPieces> one{three_altos()[1]};
  const auto names = [&](Layering layering) {
    const auto all = cutting_plans(one, plain_cloth(), {.layering = layering})[0].names;
    return std::multiset<std::string>(all.begin(), all.end());
  };
  CHECK(names(Layering::single) == std::multiset<std::string>{"alto 2: belt, 1 of 2",
                                                              "alto 2: belt, 2 of 2",
                                                              "alto 2: bodice back",
                                                              "alto 2: bodice front",
                                                              "alto 2: skirt back",
                                                              "alto 2: skirt front",
                                                              "alto 2: skirt front, flipped"});
  CHECK(names(Layering::folded).count("alto 2: skirt front, cuts 2") == 1);
}

TEST_CASE("pieces lie on the washed cloth, and what shrinks is bought") {
  Cloth cloth = plain_cloth();
  cloth.shrinkage_length = 0.05, cloth.shrinkage_width = 0.04;
  cloth.repeat_length = 20, cloth.repeat_width = 10;
  cloth.nap = true;
  const std::vector<GarmentPieces> one{three_altos()[1]};
  const std::vector<CuttingPlan> plans = cutting_plans(one, cloth);
  REQUIRE(plans.size() == 2);
  CHECK_THAT(plans[0].cloth.width, WithinAbs(144, 1e-9));
  CHECK(plans[0].bought_width == 150);
  CHECK_THAT(plans[0].cloth.repeat, WithinAbs(19, 1e-9));
  CHECK_THAT(plans[0].cloth.repeat_across, WithinAbs(9.6, 1e-9));
  CHECK(faults_of(plans[0].plan, plans[0].shapes, plans[0].cloth).empty());
  // Bought, it has to be as long as is cut once it has shrunk.
  for (const CuttingPlan& plan : plans) {
    CHECK(100 * plan.to_buy.metres * 0.95 >= plan.plan.length - 1e-6);
    CHECK(91.44 * plan.to_buy.yards * 0.95 >= plan.plan.length - 1e-6);
  }
  CHECK_FALSE(plans[1].cloth.nap);
  CHECK(plans[1].cloth.repeat == 0);
  // A print and a nap cost cloth (trade notes 13).
  const CuttingPlan plain = cutting_plans(one, plain_cloth())[0];
  CHECK(plans[0].plan.length > plain.plan.length);
}

TEST_CASE("on a print the seams and centres of a dress match") {
  // Told anew from the pieces: where side seam and centre fall on the print.
  Cloth cloth = plain_cloth();
  cloth.repeat_length = 32, cloth.repeat_width = 27;
  const CuttingPlan plan = cutting_plans({three_altos()[1]}, cloth)[0];
  REQUIRE(plan.plan.error.empty());
  std::map<std::string, double> waists;  // by part of the garment
  std::optional<double> centre;
  int matched = 0;
  for (const Placed& placed : plan.plan.placed) {
    const Piece& piece =
        three_altos()[1].pieces[plan.sources[static_cast<size_t>(placed.shape)].piece];
    if (piece.name == "belt") continue;
    REQUIRE_FALSE(placed.turned);
    const PieceEdge* waist = piece.edge("waist");
    REQUIRE(waist != nullptr);
    // The waist's side end: its beginning on skirts, its end on bodices.
    const bool skirt = piece.name.rfind("skirt", 0) == 0;
    const double y = placed.at.y + (skirt ? waist->line.front() : waist->line.back()).y;
    const auto [known, fresh] = waists.try_emplace(skirt ? "skirt" : "bodice", y);
    CHECK_THAT(std::remainder(y - known->second, 32), WithinAbs(0, 1e-3));
    double x = 0;  // a fold's
    for (const PieceMark& m : piece.marks) {
      if (m.label == "centre front") x = m.line[0].x;
    }
    x = placed.at.x + (placed.mirrored ? -x : x);
    if (!centre) centre = x;
    CHECK_THAT(std::remainder(x - *centre, 27), WithinAbs(0, 1e-3));
    ++matched;
  }
  CHECK(matched == 5);
}

TEST_CASE("the same pieces get the same plan, on one thread and on two") {
  // Within half the time allowed, which is ample here.
  const auto lengths = [&](int threads) {
    std::vector<double> all;
    for (const auto& plan :
         cutting_plans(three_altos(), plain_cloth(), {.seconds = 1000, .threads = threads})) {
      for (const Placed& p : plan.plan.placed) all.push_back(p.at.y), all.push_back(p.at.x);
    }
    return all;
  };
  const std::vector<double> one = lengths(1);
  CHECK(one.size() > 20);
  CHECK(lengths(2) == one);
}

TEST_CASE("a piece wider than its cloth is named, the other material is planned all the same") {
  Cloth narrow = plain_cloth();
  narrow.width = 62;
  const std::vector<CuttingPlan> plans = cutting_plans({three_altos()[1]}, narrow);
  REQUIRE(plans.size() == 2);
  CHECK_THAT(plans[0].plan.error, Catch::Matchers::StartsWith("alto 2: "));
  CHECK_THAT(plans[0].plan.error, Catch::Matchers::Contains("the cloth is 62.0 cm wide"));
  CHECK(plans[0].plan.placed.empty());
  CHECK(plans[0].names.empty());
  CHECK(plans[1].plan.error.empty());
  CHECK(plans[1].to_buy.metres > 0);
}

TEST_CASE("nothing to cut is no plan, and fifty dresses are one") {
  CHECK(cutting_plans({}, plain_cloth()).empty());
  std::vector<GarmentPieces> many;
  for (int i = 0; i < 50; ++i) {
    many.push_back(three_altos()[static_cast<size_t>(i % 3)]);
    many.back().who += ", " + std::to_string(i);
  }
  const std::vector<CuttingPlan> plans =
      cutting_plans(many, plain_cloth(), {.seconds = 2, .threads = 2});
  REQUIRE(plans.size() == 2);
  for (const CuttingPlan& plan : plans) {
    CHECK(faults_of(plan.plan, plan.shapes, plan.cloth).empty());
    WARN("fifty dresses, " << (plan.material == CutOf::cloth ? "cloth: " : "lining: ")
                           << plan.plan.length / 100 << " m, " << 100 * plan.plan.filled
                           << " % filled, " << plan.plan.layouts << " layouts");
  }
}

}  // namespace easewright::tests
