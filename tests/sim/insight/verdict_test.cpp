// One verdict for every surface: what it begins with, and that nothing that holds is left out.
#include "sim/insight/verdict.h"

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <variant>
#include <vector>

#include "render/page/report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/insight/lesson.h"
#include "sim/job/rules.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

using Changes = std::vector<std::string>;

// The loader that carries a bale of 900 kg across 10 degrees: front axle over the maker's figure.
Scene bale(Changes more = {}) {
  Changes changes{"ballast.loader_payload_kg=900", "ballast.rear.fill_fraction=0", "terrain.slope_deg=10"};
  changes.insert(changes.end(), more.begin(), more.end());
  return test_scene("first_slope", changes);
}

// The first bold line under the page's title, behind what bars signing.
std::string bold_line(const Answer& answer) {
  const auto pages = report_pages(answer, {});
  std::vector<std::string> bold;
  for (const auto& mark : pages[0].sheet.marks)
    if (const auto* text = std::get_if<PageText>(&mark); text && text->strong) bold.push_back(text->words);
  for (std::size_t i = 1; i < bold.size(); ++i)
    if (bold[i] != "NOT TO BE SIGNED" && bold[i] != "!" && bold[i] != answer.scene.vehicle.name) return bold[i];
  return "";
}

std::vector<std::string> keys_of(const StandVerdict& verdict) {
  std::vector<std::string> keys{key_of(verdict.headline)};
  for (StandCause cause : verdict.also) keys.emplace_back(key_of(cause));
  return keys;
}

bool over_stated(const LoadCheck& loads) {
  const auto over = [](const LoadMargin& m) { return m.capacity > 0 && m.used > 1; };
  return std::ranges::any_of(loads.axles, over) || std::ranges::any_of(loads.tyres, [&](const TyreCheck& tyre) {
           return tyre.rating == Rating::stated && over(tyre.margin);
         });
}

bool over_typical(const LoadCheck& loads) {
  return std::ranges::any_of(loads.tyres, [](const TyreCheck& tyre) {
    return tyre.rating == Rating::typical && tyre.margin.capacity > 0 && tyre.margin.used > 1;
  });
}

// Text in one line: a title may be broken between its words.
std::string one_line(const std::string& text) {
  std::string line;
  for (char c : text)
    if (const bool blank = c == ' ' || c == '\n'; !blank || (!line.empty() && line.back() != ' '))
      line += blank ? ' ' : c;
  return line;
}

// What the loads of an answer ask of each surface.
void check_surfaces(const Answer& found) {
  REQUIRE(found.loads);
  const StandVerdict verdict = verdict_on(found);
  const std::string text = one_line(answer_table(found));
  const auto json = to_json(found);
  const std::string title = cause_title(verdict.headline);
  CHECK(text.starts_with(title));
  CAPTURE(title);
  CAPTURE(bold_line(found));
  CHECK(bold_line(found).starts_with(title));
  CHECK(json["verdict"] == key_of(verdict.headline));
  const auto said = [&](StandCause cause) {
    CHECK(verdict.holds(cause));
    const std::size_t at = text.find(cause_title(cause)), stands = text.find("STANDS");
    REQUIRE(at != text.npos);
    CHECK(at < stands);
    CHECK(stands == text.npos);
    CHECK((json["verdict"] == key_of(cause) || json["also"].dump().find(key_of(cause)) != std::string::npos));
  };
  if (over_stated(*found.loads)) said(StandCause::over_limit);
  if (over_typical(*found.loads)) said(StandCause::may_be_over_limit);
  if (!over_stated(*found.loads) && verdict.over.empty()) CHECK_FALSE(verdict.holds(StandCause::over_limit));
}

StandVerdict on(const Scene& scene, const StaticSolution& statics) {
  return verdict_on(scene, build(scene), statics, nullptr);
}

}  // namespace

TEST_CASE("every scene begins with what is over its limit, wherever something is") {
  int over = 0;
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(SIDEHILL_SOURCE_DIR "/scenes"))
    if (entry.path().extension() == ".toml") names.insert(entry.path().stem().string());
  int number = 0;
  for (const std::string& name : names) {
    if (number++ % kShare != 0) continue;
    // As it comes, with the ratings typical of the sizes, and loaded beyond everything.
    for (const Changes& changes : {Changes{}, Changes{"vehicle.front.tyre.service=", "vehicle.rear.tyre.service="},
                                   Changes{"vehicle.front.capacity_kg=300", "vehicle.rear.tyre.pressure_kpa=20"}}) {
      const Scene scene = test_scene(name, changes);
      INFO(name << " " << (changes.empty() ? "" : changes[0]));
      const Answer found = answer(scene, 1);
      if (!found.loads) continue;
      check_surfaces(found);
      over += over_stated(*found.loads) || over_typical(*found.loads);
    }
  }
  CHECK(over > 12 / kShare);
}

TEST_CASE("the scenes that come with the program are within their limits, or their title says that they are not") {
  for (const auto& entry : std::filesystem::directory_iterator(SIDEHILL_SOURCE_DIR "/scenes")) {
    if (entry.path().extension() != ".toml") continue;
    const Scene scene = load_scene(entry.path());
    INFO(entry.path().stem().string());
    const StandVerdict verdict = verdict_on(answer(scene, 1));
    CHECK(verdict.holds(StandCause::over_limit) == has(scene.title, "overloaded"));
    CHECK_FALSE(verdict.holds(StandCause::may_be_over_limit));
  }
  for (const Lesson& lesson : list_lessons(SIDEHILL_SOURCE_DIR "/scenes/lessons")) {
    INFO(lesson.title);
    bool over = false;
    for (SetUp which : {SetUp::a, SetUp::b}) {
      if (which == SetUp::b && lesson.second.empty()) continue;
      const StandVerdict verdict = verdict_on(answer(scene_of(lesson, which), 1));
      over = over || verdict.holds(StandCause::over_limit);
      CHECK_FALSE(verdict.holds(StandCause::may_be_over_limit));
    }
    CHECK(over == has(lesson.title, "overloaded"));
  }
}

TEST_CASE("a bale of 900 kg: the front axle is said first, and stands nowhere above it") {
  const Answer found = with_uncertainty(answer(bale(), 1));
  const StandVerdict verdict = verdict_on(found);
  CHECK(verdict.headline == StandCause::over_limit);
  REQUIRE_FALSE(verdict.over.empty());
  CHECK(verdict.over[0].kind == LimitKind::axle);
  CHECK_NEAR(verdict.over[0].margin.used, found.loads->axles[0].load / 3200, 1e-12);
  const std::string text = answer_table(found);
  CHECK(text.starts_with("OVER ITS LIMITS AS SET UP, on this slope: front axle "));
  CHECK(has(text, " % over the maker's figure"));
  CHECK_FALSE(has(text, "STANDS"));
  CHECK_FALSE(has(text, "107 %"));
  CHECK(to_json(found)["verdict"] == "over_limit");
  CHECK(to_json(found)["status"] == "stands");  // the pose's word stays
}

TEST_CASE("a size's typical rating is a question, a stated one is not") {
  const Changes steep{"terrain.slope_deg=15", "vehicle.front.capacity_kg=5000"};
  Changes typical = steep;
  typical.push_back("vehicle.front.tyre.service=");
  const StandVerdict asked = verdict_on(answer(bale(typical), 1));
  CHECK(asked.headline == StandCause::may_be_over_limit);
  CHECK(has(cause_words(asked.headline, asked, bale(typical), {}), "Read the sidewall"));
  const StandVerdict sure = verdict_on(answer(bale(steep), 1));
  CHECK(sure.headline == StandCause::over_limit);
  REQUIRE_FALSE(sure.over.empty());
  CHECK(sure.over[0].kind == LimitKind::tyre);
}

TEST_CASE("a machine that goes over keeps its overloads, of the level, after it") {
  const Scene scene = bale({"terrain.slope_deg=50", "terrain.soil.adhesion_unlimited=true"});
  const Answer found = answer(scene, 1);
  REQUIRE(found.statics.status == RestStatus::tipped);
  const StandVerdict verdict = verdict_on(found);
  CHECK(verdict.headline == StandCause::tipped);
  CHECK(verdict.on_level);
  CHECK(keys_of(verdict) == std::vector<std::string>{"tipped", "over_limit"});
  const std::string text = one_line(answer_table(found));
  CHECK(text.starts_with("GOES OVER"));
  CHECK(has(text, "OVER ITS LIMITS AS SET UP, on the level: front axle"));
  CHECK(has(text, "on the level. Take load off."));
}

TEST_CASE("a filling frozen through is said first where the machine stands") {
  const Scene scene = test_scene(
      "first_slope", {"ballast.rear.medium=water", "ballast.rear.concentration=0", "settings.temperature_c=-15"});
  const Answer found = answer(scene, 1);
  const StandVerdict verdict = verdict_on(found);
  CHECK(verdict.headline == StandCause::frozen);
  CHECK(to_json(found)["verdict"] == "frozen");
  CHECK(answer_table(found).starts_with("FROZEN, DO NOT DRIVE"));
  CHECK(bold_line(found).starts_with("FROZEN, DO NOT DRIVE"));
  REQUIRE_FALSE(to_json(found)["cautions"].empty());
  CHECK(has(to_json(found)["cautions"][0].get<std::string>(), "DO NOT DRIVE"));
}

TEST_CASE("the big number is what gives way first: a row crop on dual wheels slides long before a wheel lifts") {
  const Scene scene = test_machine(
      "row_crop_150kw", {"vehicle.rear.dual_spacing_m=0.6", "ballast.rear.fill_fraction=0.4", "terrain.slope_deg=15",
                         "start.heading_deg=60", "terrain.soil.adhesion_unlimited=false", "terrain.soil.adhesion=0.6"});
  const Answer found = with_uncertainty(answer(scene, 1));
  const StandVerdict verdict = verdict_on(found);
  REQUIRE(verdict.gives_way.size() >= 2);
  CHECK(verdict.gives_way[0].what == GivesWay::slide);
  CHECK_NEAR(verdict.gives_way[0].left, *found.statics.slide - scene.terrain.slope, 1e-12);
  REQUIRE(verdict.gives_way[0].interval);
  CHECK(verdict.gives_way[0].interval->low < *found.statics.slide);
  CHECK(std::ranges::is_sorted(verdict.gives_way, {}, &WayGiven::slope));
  CHECK(verdict.headline == StandCause::stands);  // a pair is not held against one tyre's rating
  const std::string text = answer_table(found);
  CHECK(text.starts_with("STANDS, " + degrees(verdict.gives_way[0].left) + " of slope left before it slides."));
  CHECK(has(text, "From here: it slides " + degrees(verdict.gives_way[0].left)));
  CHECK(to_json(found)["gives_way"][0]["what"] == "slide");
}

TEST_CASE("what nothing says of tyres and axles stands in the first line, as the rules have it") {
  const std::string front = "vehicle.front.", rear = "vehicle.rear.";
  const Changes no_front_axle{front + "capacity_kg=0"}, no_axles{front + "capacity_kg=0", rear + "capacity_kg=0"};
  // Of a size that no list has, and without a mark.
  const Changes no_rear_tyres{rear + "tyre.service=\"\"", rear + "tyre.size=\"25.5-31\""};
  Changes nothing_known = no_axles;
  nothing_known.insert(nothing_known.end(), no_rear_tyres.begin(), no_rear_tyres.end());
  struct Case {
    Changes changes;
    std::string says;
  };
  for (const Case& one :
       {Case{{}, ""}, Case{no_front_axle, "limits of front axle NOT KNOWN"},
        Case{no_axles, "limits of axles NOT KNOWN"}, Case{no_rear_tyres, "limits of rear tyres NOT KNOWN"},
        Case{nothing_known, "limits of rear tyres and axles NOT KNOWN"}}) {
    CAPTURE(one.says);
    const Answer found = answer(test_scene("first_slope", one.changes));
    const StandVerdict verdict = verdict_on(found);
    CHECK(limits_not_known_words(verdict) == one.says);
    const nlohmann::ordered_json listed = to_json(found)["limits_not_known"];
    const auto lists = [&](const char* what) { return std::ranges::find(listed, what) != listed.end(); };
    CHECK(lists("front_tyres") == verdict.tyres_not_known[0]);
    CHECK(lists("rear_tyres") == verdict.tyres_not_known[1]);
    CHECK(lists("front_axle") == verdict.axle_not_known[0]);
    CHECK(lists("rear_axle") == verdict.axle_not_known[1]);
    const std::string text = answer_table(found), first = text.substr(0, text.find("From here"));
    REQUIRE(verdict.headline == StandCause::stands);
    CHECK(text.starts_with(one.says.empty() ? "STANDS, 1" : "STANDS, " + one.says + "; "));
    CHECK(has(first, " of slope left before it slides."));
    const RuleReport report = rules_on(found.scene, found.model);
    const auto known = [&](RuleId id) {
      return std::ranges::find(report.rules, id, &RuleAnswer::id)->state != RuleState::not_known;
    };
    CHECK(known(RuleId::front_axle) != verdict.axle_not_known[0]);
    CHECK(known(RuleId::rear_axle) != verdict.axle_not_known[1]);
    CHECK(known(RuleId::front_tyres) != verdict.tyres_not_known[0]);
    CHECK(known(RuleId::rear_tyres) != verdict.tyres_not_known[1]);
  }
  // Behind a worse fact it stands as a sentence of its own, in the same paragraph.
  const std::string little =
      answer_table(answer(test_scene("first_slope", {front + "capacity_kg=0", "ballast.loader_payload_kg=0",
                                                     "ballast.rear.fill_fraction=0", "terrain.slope_deg=26"})));
  CHECK(little.starts_with("LITTLE LEFT: "));
  CHECK(has(little.substr(0, little.find("From here")), "Limits of front axle NOT KNOWN."));
}

TEST_CASE("where the interval reaches this slope, or little is left, that is said") {
  const double lift = *solve_statics(build(test_scene("bucket_up"))).first_lift_off / kDegree;
  const auto at = [&](double slope) {
    return with_uncertainty(answer(test_scene("bucket_up", {"terrain.slope_deg=" + std::to_string(slope)}), 1));
  };
  const StandVerdict close = verdict_on(at(lift - 0.1));
  CHECK(close.holds(StandCause::interval_reaches_slope));
  CHECK(close.holds(StandCause::little_left));
  REQUIRE(close.reaches);
  CHECK(close.reaches->what == GivesWay::lift_off);
  const Answer near = at(lift - 4);
  const StandVerdict little = verdict_on(near);
  CHECK_FALSE(little.holds(StandCause::interval_reaches_slope));
  CHECK(little.holds(StandCause::little_left));
  CHECK_FALSE(verdict_on(at(lift - 6)).holds(StandCause::little_left));
  // Without intervals nothing is claimed of them.
  Answer blind = at(lift - 0.1);
  blind.uncertainty.reset();
  CHECK_FALSE(verdict_on(blind).holds(StandCause::interval_reaches_slope));
}

TEST_CASE("causes come in one order, and the first is the headline") {
  Scene scene = bale({"ballast.rear.medium=water", "ballast.rear.fill_fraction=0.75", "settings.temperature_c=-15",
                      "ballast.front_weights_kg=500"});
  StaticSolution s = solve_statics(build(scene));
  s.slide = 0;
  s.tip_over = s.first_lift_off = 0.1;
  for (const auto& [status, first] : {std::pair{RestStatus::tipped, "tipped"},
                                      {RestStatus::on_stop, "on_stop"},
                                      {RestStatus::wheel_up, "wheel_up"}}) {
    s.status = status;
    CHECK(keys_of(on(scene, s)) == std::vector<std::string>{first, "slides", "frozen", "over_limit"});
  }
  s.status = RestStatus::unsolved;
  CHECK(keys_of(on(scene, s)) == std::vector<std::string>{"unsolved", "frozen", "over_limit"});
  CHECK(on(scene, s).gives_way.empty());
  CHECK(on(scene, s).over[0].kind == LimitKind::front_mount);
  s.status = RestStatus::slides;
  CHECK(keys_of(on(scene, s)) == std::vector<std::string>{"slides", "frozen", "over_limit"});
  const Scene plain =
      bale({"ballast.loader_payload_kg=0", "terrain.slope_deg=0", "terrain.soil.adhesion_unlimited=true"});
  StaticSolution never;
  never.status = RestStatus::stands;
  CHECK(keys_of(on(plain, never)) == std::vector<std::string>{"stands"});
  CHECK(has(verdict_sentences(on(plain, never), plain, never)[0], "nothing gives way"));
}

TEST_CASE("every cause has a key, a title and words of its own") {
  const Scene scene = bale();
  const Answer found = answer(scene, 1);
  const StandVerdict verdict = verdict_on(found);
  std::vector<std::string> keys;
  for (int i = 0; i < kStandCauses; ++i) {
    const auto cause = static_cast<StandCause>(i);
    keys.emplace_back(key_of(cause));
    CHECK(cause_words(cause, verdict, scene, found.statics).starts_with(cause_title(cause)));
  }
  std::ranges::sort(keys);
  CHECK(std::ranges::adjacent_find(keys) == keys.end());
}

TEST_CASE(
    "a rating is not said to be passed from a slope on that lies behind, nor on ground it was not worked out for") {
  const auto said = [](std::vector<std::string> more) {
    more.insert(more.begin(), {"ballast.loader_payload_kg=900", "terrain.slope_deg=16"});
    const Answer found = answer(test_scene("bucket_up", more));
    return verdict_on(found);
  };
  for (const RatingPassed& rating : said({}).ratings)
    CHECK((rating.steering || rating.slope <= 0 || rating.slope > 16 * kDegree));
  const StandVerdict bumpy =
      said({"terrain.feature+={kind=\"bump\", x_m=20, y_m=0, length_m=1, width_m=2, height_m=0.1}"});
  CHECK(bumpy.ratings.empty());
}

TEST_CASE("whether a filling freezes is not known: the verdict says so, and does not take it as liquid in silence") {
  const Changes own{"ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1250",
                    "settings.temperature_c=-10", "terrain.slope_deg=0"};
  const Answer found = answer(test_scene("first_slope", own), 1);
  const StandVerdict verdict = verdict_on(found);
  CHECK(verdict.headline == StandCause::frost_not_known);
  check_surfaces(found);
  CHECK(answer_table(found).starts_with("NOT KNOWN WHETHER IT FREEZES"));
  CHECK(to_json(found)["verdict"] == "frost_not_known");
  Changes given = own;
  given.push_back("ballast.own_medium.first_ice_c=-30");
  CHECK_FALSE(verdict_on(answer(test_scene("first_slope", given), 1)).holds(StandCause::frost_not_known));
  given.back() = "settings.temperature_c=20";  // warmer than when it was pumped in: liquid
  CHECK_FALSE(verdict_on(answer(test_scene("first_slope", given), 1)).holds(StandCause::frost_not_known));
  given.back() = "ballast.own_medium.solid_c=-5";  // frozen hard says more than not known
  CHECK(verdict_on(answer(test_scene("first_slope", given), 1)).holds(StandCause::frozen));
}
