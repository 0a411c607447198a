// The rules, values, styles and cloths that are shipped: that they are well formed, and that they
// say what the trade says. Sources of the expected figures stand beside them; 'notes' are a
// cutter's notes on the model, common practice unless they name a survey.

#include "cli/read/catalogue.h"
#include "cli/read/cloth.h"
#include "cli/read/data_folder.h"
#include "cli/read/style.h"
#include "model/fit.h"
#include "model/rules/expression_evaluate.h"
#include "tests/catch.h"
#include "tests/model/sample.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>

namespace easewright {
namespace {

const std::string kData = std::string(EASEWRIGHT_SOURCE_DIR) + "/data";

void require_none(const Complaints& complaints) {
  for (const Complaint& complaint : complaints.in_order()) UNSCOPED_INFO(to_string(complaint));
  REQUIRE(complaints.empty());
}

const Catalogue& shipped() {
  static const Catalogue catalogue = [] {
    Complaints complaints;
    auto read = read_catalogue(kData, complaints);
    require_none(complaints);
    return *read;
  }();
  return catalogue;
}

Style style_named(const std::string& name) {
  Complaints complaints;
  const std::string path = path_of_name(kData, "styles", name);
  const auto map = load_yaml(path, complaints, {path, {}, ""});
  Style style;
  if (map) style = read_style(*map, "", {path, complaints});
  require_none(complaints);
  return style;
}

Cloth cloth_named(const std::string& name) {
  Complaints complaints;
  const std::string path = path_of_name(kData, "cloths", name);
  const auto map = load_yaml(path, complaints, {path, {}, ""});
  Cloth cloth;
  if (map) cloth = read_cloth(*map, "", {path, complaints});
  require_none(complaints);
  return cloth;
}

const Rule& rule_named(const std::string& name) {
  for (const Rule& rule : shipped().rules) {
    if (rule.name == name) return rule;
  }
  FAIL("there is no rule '" << name << "'");
  return shipped().rules.front();
}

/// Measures, values, body and cloth set by hand: the rule is judged without any geometry.
struct Sheet {
  Values<double> values{};
  Measures<double> measures{};
  std::array<double, kBodyKeys> body{};
  std::array<double, kClothFacts> cloth{};

  Sheet() {
    const Cloth standard;
    for (int i = 0; i < kClothFacts; ++i)
      cloth[static_cast<size_t>(i)] = standard.*cloth_fact(i).member;
  }
  Sheet& with(const std::string& id, double value) {
    const auto name = find_name(id);
    REQUIRE(name);
    const auto at = static_cast<size_t>(name->index);
    switch (name->kind) {
      case NameKind::value:
        values.at.at(at) = value;
        break;
      case NameKind::measure:
        measures.at.at(at) = value;
        break;
      case NameKind::body:
        body.at(at) = value;
        break;
      case NameKind::cloth:
        cloth.at(at) = value;
        break;
    }
    return *this;
  }
  Facts<double> facts() const {
    return {values.at.data(), measures.at.data(), body.data(), cloth.data()};
  }
};

/// How far the rule is from holding: negative below its least, positive above its most.
double miss(const Rule& rule, const Sheet& sheet) {
  const double it = rule.range.expression.evaluate(sheet.facts());
  const double lo = rule.range.lo ? rule.range.lo->evaluate(sheet.facts()) : -1e300;
  const double hi = rule.range.hi ? rule.range.hi->evaluate(sheet.facts()) : 1e300;
  return it < lo ? it - lo : it > hi ? it - hi : 0;
}
double miss(const std::string& rule, const Sheet& sheet) { return miss(rule_named(rule), sheet); }

bool applies(const Rule& rule, const Switches& switches) {
  return std::all_of(
      rule.when.begin(), rule.when.end(), [&](const Condition& c) { return c.holds(switches); });
}

}  // namespace

TEST_CASE("the shipped rules are many, each with a reason and a source, and no two say the same") {
  const auto& rules = shipped().rules;
  CHECK(rules.size() >= 55);
  std::set<std::string> groups;
  std::set<std::pair<std::string, std::string>> said;
  for (const Rule& rule : rules) {
    INFO(rule.name);
    groups.insert(rule.group);
    CHECK_FALSE(rule.because.empty());
    CHECK_FALSE(rule.source.empty());
    CHECK(rule.because.back() != '.');
    CHECK(rule.tolerance > 0);
    if (!rule.caution.empty()) CHECK(rule.caution.back() == '.');
    std::string when;
    for (const Condition& c : rule.when) {
      when += std::string(info(c.which).id);
      for (const std::string& option : c.options) when += "," + option;
      when += ";";
    }
    CHECK(said.insert({rule.range.text, when}).second);
  }
  CHECK(groups.size() == 12);
}

TEST_CASE("every rule applies to some garment") {
  // With its own conditions met and every other switch at its default, the garment has all that the
  // rule names.
  for (const Rule& rule : shipped().rules) {
    INFO(rule.name);
    Switches switches;
    for (const Condition& c : rule.when) CHECK(switches.set(c.which, c.options.front()));
    CHECK(applies(rule, switches));
    const auto has = [&switches](const Expression& e) {
      const auto names = e.names();
      return std::all_of(names.begin(), names.end(), [&](const Name& name) {
        if (name.kind == NameKind::value) {
          const auto& when = shipped().values[static_cast<size_t>(name.index)].when;
          return std::all_of(
              when.begin(), when.end(), [&](const Condition& c) { return c.holds(switches); });
        }
        return name.kind != NameKind::measure ||
               has_measure(switches, static_cast<MeasureKey>(name.index));
      });
    };
    CHECK(has(rule.range.expression));
    if (rule.range.lo) CHECK(has(*rule.range.lo));
    if (rule.range.hi) CHECK(has(*rule.range.hi));
  }
}

TEST_CASE("musts are only what can't be worn or sewn otherwise: fewer than shoulds") {
  std::map<solver::Level, int> count;
  for (const Rule& rule : shipped().rules) {
    // One way of dressing is one rule to the wearer.
    if (rule.group != "dressing") ++count[rule.strength];
  }
  CHECK(count[solver::Level::must] < count[solver::Level::should] / 2);
  for (const Rule& rule : shipped().rules) {
    if (rule.group == "dressing") CHECK(rule.strength == solver::Level::must);
  }
}

TEST_CASE("draft values begin inside their limits, for slight and large bodies") {
  const Cloth cloth = cloth_named("choir bolt");
  for (const double size : {0.75, 1.0, 1.35}) {
    CompleteBody body = tests::sample_body();
    for (BodyValue& value : body.values) value.value *= size;
    for (const BodyKey angle : {BodyKey::bust_angle, BodyKey::blade_angle, BodyKey::shoulder_slope})
      body.at(angle).value /= size;
    Sheet sheet;
    for (size_t i = 0; i < kBodyKeys; ++i) sheet.body[i] = body.values[i].value;
    for (int i = 0; i < kClothFacts; ++i)
      sheet.cloth[static_cast<size_t>(i)] = cloth.*cloth_fact(i).member;
    std::array<double, kValueKeys> habits{};
    for (size_t i = 0; i < kValueKeys; ++i) {
      const ValueDefault& standard = shipped().values[i];
      INFO(info(static_cast<ValueKey>(i)).id << " at " << size);
      habits[i] = standard.habit.evaluate(sheet.facts());
      CHECK(standard.least.evaluate(sheet.facts()) <= habits[i]);
      CHECK(habits[i] <= standard.most.evaluate(sheet.facts()));
      CHECK(standard.least.evaluate(sheet.facts()) < standard.most.evaluate(sheet.facts()));
      CHECK(standard.scale > 0);
    }
    // Habits agree with each other: equal side seams; a skirt of one waist with the bodice once its
    // shaping is open.
    const auto at = [&habits](ValueKey key) { return habits[static_cast<size_t>(key)]; };
    using K = ValueKey;
    CHECK_THAT(at(K::bodice_front_underarm) - at(K::bodice_front_waist) -
                   at(K::bodice_back_underarm) + at(K::bodice_back_waist),
               WithinAbs(0, 1e-9));
    const double skirt =
        2 * (at(K::skirt_back_width) + at(K::skirt_front_width)) - at(K::skirt_overlap);
    CHECK(skirt >= sheet.body[static_cast<size_t>(BodyKey::hip_girth)] + 5);
  }
}

TEST_CASE("styles and cloths read without a complaint") {
  const auto styles = names_in(kData, "styles");
  CHECK(styles.size() >= 2);
  for (const std::string& name : styles) {
    INFO(name);
    const Style style = style_named(name);
    CHECK(style.label == name);
    CHECK_FALSE(style.put_on.empty());
    for (const Wish& wish : style.wishes) {
      const auto known = find_name(wish.id);
      REQUIRE(known);
      if (known->kind == NameKind::measure)
        CHECK(has_measure(style.switches, static_cast<MeasureKey>(known->index)));
    }
  }
  const auto cloths = names_in(kData, "cloths");
  CHECK(cloths.size() >= 5);
  for (const std::string& name : cloths) CHECK(cloth_named(name).label == name);
}

TEST_CASE("what passes what: bust 92, shoulders 103, need 97 (notes, point 1)") {
  Sheet sheet;
  sheet.with("dressing.need", 97)
      .with("bodice.bust", 96)
      .with("bodice.waist", 97)
      .with("bodice.underarm", 97);
  CHECK_THAT(miss("bust line passes shoulders and bust", sheet), WithinAbs(-1.0, 1e-12));
  CHECK(miss("waist seam passes shoulders and bust", sheet) == 0);
  CHECK(miss("underarm passes shoulders and bust", sheet) == 0);
  // The neck edge of a V of 8, 56.9, against a head of 56.5 that asks for 59.5; of a V of 10, 60.3.
  sheet.with("body.head_girth", 56.5).with("neckline.edge", 56.9);
  CHECK_THAT(miss("neck edge passes the head", sheet), WithinAbs(-2.6, 1e-9));
  CHECK(miss("neck edge passes the head", sheet.with("neckline.edge", 60.3)) == 0);
  // Stepping in: the neck edge would have to pass the hips, '71 against 98: never'.
  sheet.with("neckline.edge", 71).with("body.hip_girth", 98);
  CHECK_THAT(miss("neck edge passes the hips", sheet), WithinAbs(-29, 1e-9));
  // A relaxed neckline of 50 without any opening, head 56.1 (means of the 2012 survey): 6.1 short,
  // and the allowance.
  CHECK_THAT(miss("neck edge passes the head",
                  Sheet().with("neckline.edge", 50).with("body.head_girth", 56.1)),
             WithinAbs(-6.1 - 3, 1e-9));
  // Knit: relaxed edge x (1 + half stretch) >= head girth (common practice).
  CHECK_THAT(
      miss(
          "unlined neck edge passes the head",
          Sheet().with("cloth.stretch", 0.5).with("neckline.edge", 44).with("body.head_girth", 56)),
      WithinAbs(-1.0, 1e-3));
}

TEST_CASE(
    "the elastic while dressing (notes, point 24): 66.6 for a need of 97 stretches 45.6 %, of 56 % "
    "that may be used") {
  Sheet sheet;
  sheet.with("dressing.need", 97).with("dressing.elastic", 66.6 * (1 + 0.7 * 0.8));
  CHECK(miss("elastic passes shoulders and bust", sheet) == 0);
  CHECK(miss("elastic passes shoulders and bust",
             sheet.with("dressing.elastic", 66.6 * (1 + 0.7 * 0.6))) < 0);
}

TEST_CASE(
    "what is borne at the waist by age (published abstract, 124 women): mmHg 26.63, 20.89, 12.28 "
    "at 20, 40, 70") {
  const Rule& rule = rule_named("elastic presses no more than is borne");
  for (const auto& [age, mmhg] :
       {std::pair(20.0, 26.63), std::pair(40.0, 20.89), std::pair(70.0, 12.28)}) {
    const double kpa = rule.range.hi->evaluate(Sheet().with("body.age", age).facts());
    CHECK_THAT(kpa, WithinAbs(mmhg * 0.133322, 0.002));
  }
  CHECK_FALSE(rule.caution.empty());
}

TEST_CASE(
    "slits: 8 below the gluteal fold, 10 below the crotch, so at least 39 on the mean woman of "
    "1988") {
  // Fold 31.2 and crotch 28.5 below the natural waist (Gordon et al. 1989, derived).
  const auto highest = [](double opening) {
    Sheet sheet;
    sheet.with("slit.below_fold", opening - 31.2).with("slit.below_crotch", opening - 28.5);
    return miss("slit opens below the seat", sheet) == 0 &&
           miss("slit opens below the crotch", sheet) == 0;
  };
  CHECK_FALSE(highest(39.1));
  CHECK(highest(39.3));
}

TEST_CASE(
    "a skirt may be modest standing and not seated (notes, point 7: 12.3 of 19.3 at the lap)") {
  Sheet sheet;
  sheet.with("slit.below_fold", 62.4 - 31.2)
      .with("slit.below_crotch", 62.4 - 28.5)
      .with("slit.seated_cover", 12.3 - 19.3);
  CHECK(miss("slit opens below the seat", sheet) == 0);
  CHECK(miss("slit opens below the crotch", sheet) == 0);
  CHECK_THAT(miss("fronts cover the lap when seated", sheet), WithinAbs(-7, 1e-9));
}

TEST_CASE("balance of front and back (notes, point 10, blocks 2.6 and 3.8 from memory)") {
  for (const double fair : {2.6, 3.57, 3.8}) {
    CHECK(miss("front and back armhole keep their balance",
               Sheet().with("armhole.balance", fair)) == 0);
  }
  CHECK_THAT(
      miss("front and back armhole keep their balance", Sheet().with("armhole.balance", 5.57)),
      WithinAbs(1.07, 1e-9));
  CHECK_THAT(
      miss("front and back armhole keep their balance", Sheet().with("armhole.balance", 0.57)),
      WithinAbs(-0.93, 1e-9));
}

TEST_CASE("armhole, strap and edges of the sample as the notes have them") {
  // Verdict: armhole 46.2 where 45.1 to 47.1 is wanted, that is 2 to 4 over armscye and cut-in
  // (38.5 + 1.14 x 4).
  for (const double girth : {45.1, 46.2, 47.0}) {
    const Sheet sheet = Sheet().with("armhole.ease", girth - 38.5 - 1.14 * 4);
    CHECK(miss("armhole clears the arm", sheet) == 0);
    CHECK(miss("armhole is not too large", sheet) == 0);
  }
  // Point 8: across 32.5 and 35.5, cut-in 4: half widths 15.0 and 16.75 at the notch, +- 0.5; the
  // plan's 16.4 and 18.4 miss.
  const auto edges = [](double front, double back) {
    return Sheet()
        .with("strap.cut_in", 4)
        .with("armhole.front_inside", 16.25 - front)
        .with("armhole.back_inside", 17.75 - back);
  };
  CHECK(miss("front edge lies inside the arm crease", edges(15.0, 16.75)) == 0);
  CHECK(miss("back edge lies inside the arm crease", edges(15.0, 16.75)) == 0);
  CHECK(miss("front edge lies inside the arm crease", edges(16.4, 18.4)) < 0);
  CHECK(miss("back edge lies inside the arm crease", edges(16.4, 18.4)) < 0);
  // Table E: the strap from 2.5 to 8.5 along a shoulder of 12.5 is a good one.
  CHECK(miss("strap lies on the firm part of the shoulder",
             Sheet().with("strap.centre_share", 5.5 / 12.5)) == 0);
  // Point 20: a drop of 3.0 is warned of with a full cup.
  CHECK_THAT(miss("armhole hides a full cup", Sheet().with("armhole.drop", 3.0)),
             WithinAbs(0.5, 1e-9));
  // Point 14: the plan's blouson of 1 is too little under an elastic that is pulled on.
  CHECK(miss("length ease survives raised arms", Sheet().with("bodice.blouson", 1)) < 0);
  CHECK(miss("length ease survives raised arms", Sheet().with("bodice.blouson", 2)) == 0);
}

TEST_CASE("narrow hems on a curve (notes, point 21, turn over radius, exact)") {
  CHECK(miss("curved edge can be hemmed narrow", Sheet().with("hem.edge_fullness", 1.27 / 80.7)) ==
        0);
  CHECK(miss("curved edge presses flat", Sheet().with("hem.edge_fullness", 1.27 / 80.7)) == 0);
  CHECK(miss("curved edge can be hemmed narrow", Sheet().with("hem.edge_fullness", 0.6 / 5)) > 0);
  CHECK(rule_named("curved edge can be hemmed narrow").strength == solver::Level::must);
}

TEST_CASE(
    "gathers by the weight of the cloth (common practice 2.0, 1.6, 1.3): hip + 2 on the mean woman "
    "is 1.435") {
  const auto holds = [](const char* cloth) {
    return miss("gathers are not bulky",
                Sheet()
                    .with("gather.ratio", 1.435)
                    .with("cloth.gather_limit", cloth_named(cloth).gather_limit)) == 0;
  };
  CHECK(holds("cotton lawn"));
  CHECK(holds("linen"));
  CHECK_FALSE(holds("velvet"));
}

TEST_CASE("care for the wearer: a child's belt is blocked, and says so") {
  const Rule& rule = rule_named("no tied belt on a child's size");
  CHECK(rule.strength == solver::Level::must);
  CHECK_FALSE(rule.caution.empty());
  Switches switches;
  CHECK_FALSE(applies(rule, switches));
  switches.set(Switch::build, "child");
  CHECK(applies(rule, switches));
  CHECK(miss(rule, Sheet().with("belt.length", 150)) > 0);
  // Flame, stairs, floor, elastic, armhole and belt ends are cautioned against somewhere.
  for (const char* word : {"candles", "stairs", "floor", "numbness", "armhole", "Belt ends"}) {
    INFO(word);
    CHECK(std::any_of(shipped().rules.begin(), shipped().rules.end(), [word](const Rule& r) {
      return r.caution.find(word) != std::string::npos;
    }));
  }
}

TEST_CASE(
    "the concert dress can be cut for every size of a published table (ASTM D5585-11e1, misses, "
    "inches)") {
  struct Size {
    double head, neck_base, shoulder, bust, underbust, upper_chest, waist;
  };
  const Size sizes[] = {{21.25, 13.25, 37.125, 31.125, 25.75, 31.75, 23.875},
                        {21.5, 13.75, 38.375, 33, 27.25, 33.25, 25.375},
                        {21.75, 14.25, 39.75, 35.25, 29, 35, 27},
                        {22, 14.875, 41.25, 37.25, 31, 36.75, 29},
                        {22.25, 15.5, 43, 40.375, 34, 39.25, 32.5},
                        {22.5, 16, 45.5, 44, 37.625, 42.25, 36.75}};
  Job job;
  job.style = style_named("concert dress");
  job.cloth = cloth_named("choir bolt");
  for (const Size& size : sizes) {
    const auto set = [&job](BodyKey key, double inches) {
      job.body[key] = BodyValue{inches * kCmPerInch, info(key).default_sd, Origin::measured};
    };
    set(BodyKey::head_girth, size.head);
    set(BodyKey::neck_base_girth, size.neck_base);
    set(BodyKey::shoulder_girth, size.shoulder);
    set(BodyKey::bust_girth, size.bust);
    set(BodyKey::underbust_girth, size.underbust);
    set(BodyKey::waist_girth, size.waist);
    const FitResult result = fit(job, shipped());
    INFO("bust " << size.bust << " in");
    REQUIRE(result.posed);
    for (const Finding& f : result.findings) {
      if (f.missed && f.strength <= solver::Level::should)
        FAIL_CHECK(f.name << " misses by " << f.miss);
    }
    CHECK(result.switches.is(Switch::put_on, "over the head"));
  }
}

TEST_CASE("a demand that can't be met is missed by name: the neckline of 50 over a head of 56") {
  Job job;
  job.style = style_named("concert dress");
  job.cloth = cloth_named("choir bolt");
  job.style.put_on = {0};
  job.body[BodyKey::head_girth] = BodyValue{56.1, 0.5, Origin::measured};
  job.body[BodyKey::bust_girth] = BodyValue{92, 0.5, Origin::measured};
  job.body[BodyKey::waist_girth] = BodyValue{74, 0.5, Origin::measured};
  job.body[BodyKey::hip_girth] = BodyValue{98, 0.5, Origin::measured};
  Wish wish;
  wish.id = "neckline.edge";
  wish.hi = Expression(50, kLength);
  job.wishes.push_back(wish);
  const FitResult result = fit(job, shipped());
  REQUIRE(result.posed);
  const auto found = std::find_if(result.findings.begin(),
                                  result.findings.end(),
                                  [](const Finding& f) { return f.wish_id == "neckline.edge"; });
  REQUIRE(found != result.findings.end());
  CHECK(found->missed);
  CHECK_THAT(found->miss, WithinAbs(6.1 + 3, 0.01));  // the wish gives way, the must does not
  CHECK(result.all_hold(solver::Level::must));
}

}  // namespace easewright
