// Charts and reports on paper: well-formed, without numbers that are none, the same bytes twice, and saying what the
// answer says.
#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>
#include <span>

#include "render/page/answer_charts.h"
#include "render/page/make_chart.h"
#include "render/page/provenance.h"
#include "render/page/report.h"
#include "render/page/run_charts.h"
#include "render/page/svg.h"
#include "render/text/rest/doubt_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/ground_words.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/motion/run.h"
#include "sim/motion/under_way.h"
#include "sim/own_machine/made_machine.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"
#include "tests/kit/near.h"
#include "tests/kit/page_words.h"
#include "tests/kit/program.h"
#include "vehicles/winter.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

namespace fs = std::filesystem;

Scene scene_of(const char* name, std::vector<std::string> changes = {}) {
  return load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/" + name + ".toml", changes);
}

std::string svg(const Chart& chart) { return svg_of(sheet_of(chart), chart.title, chart.subtitle); }

// Every opened element is closed in its turn, no bare sign of XML in text, one root: enough to separate well-formed
// from not for what svg_of can write.
bool well_formed(const std::string& xml) {
  std::vector<std::string> open;
  int roots = 0;
  for (std::size_t at = 0; at < xml.size();) {
    if (xml[at] == '&') {
      const std::size_t end = xml.find(';', at);
      if (end == xml.npos) return false;
      const std::string name = xml.substr(at + 1, end - at - 1);
      if (name != "amp" && name != "lt" && name != "gt" && name != "quot") return false;
    }
    if (xml[at] == '>') return false;
    if (xml[at] != '<') {
      ++at;
      continue;
    }
    const std::size_t end = xml.find('>', at);
    if (end == xml.npos) return false;
    const std::string tag = xml.substr(at + 1, end - at - 1);
    if (tag.find('<') != tag.npos || std::count(tag.begin(), tag.end(), '"') % 2 != 0) return false;
    const std::string name = tag.substr(0, tag.find_first_of(" /", 1));
    if (tag.front() == '/') {
      if (open.empty() || "/" + open.back() != tag) return false;
      open.pop_back();
    } else if (tag.front() != '?') {
      if (open.empty()) ++roots;
      if (tag.back() != '/') open.push_back(name);
    }
    at = end + 1;
  }
  return open.empty() && roots == 1;
}

void check_chart(const Chart& chart) {
  CAPTURE(chart.title);
  const std::string text = svg(chart);
  CHECK(well_formed(text));
  CHECK(text == svg(chart));
  for (const char* bad : {"nan", "inf", "-0.0 "}) {
    CAPTURE(bad);
    CHECK(text.find(bad) == text.npos);
  }
  CHECK(text.find("<text ") != text.npos);
  CHECK(text.find("Frame up and belt on.") != text.npos);
  CHECK(text.find("Left out: ground that gives way") != text.npos);
  CHECK((chart.y.unit == "°" || chart.y.unit == "kg"));
  // Nothing is drawn beside the sheet.
  const PageSheet sheet = sheet_of(chart);
  for (const auto& mark : sheet.marks)
    if (const auto* path = std::get_if<PagePath>(&mark))
      for (const PagePoint& p : path->points) {
        CHECK(p.x >= -1);
        CHECK(p.x <= sheet.width + 1);
        CHECK(p.y >= -1);
        CHECK(p.y <= sheet.height + 1);
      }
}

}  // namespace

TEST_CASE("the check for well-formed XML sees what is wrong") {
  CHECK(well_formed("<a b=\"1\"><c/>x &amp; y</a>"));
  for (const char* bad : {"<a>", "<a></b>", "<a>&</a>", "<a/><b/>", "<a><b></a></b>", "<a>x > y</a>", "<a b=\"></a>"}) {
    CAPTURE(bad);
    CHECK_FALSE(well_formed(bad));
  }
}

TEST_CASE("every chart of an answer is well-formed, whole and the same twice") {
  for (const char* name : {"first_slope", "bucket_up", "over_a_stump", "pull_too_high"}) {
    const Answer found = with_reasons(with_uncertainty(answer(scene_of(name), 24)));
    check_chart(heading_chart(found, true));
    check_chart(heading_chart(found, false));
    check_chart(slopes_chart(found));
    const auto why = why_chart(found);
    REQUIRE(why);
    check_chart(*why);
  }
}

TEST_CASE("charts hold on ground where nothing stands, and for a machine no wheel of which lifts") {
  for (const char* slope : {"terrain.slope_deg=0", "terrain.slope_deg=60"}) {
    const Answer found = with_uncertainty(answer(scene_of("first_slope", {slope}), 12));
    check_chart(heading_chart(found));
    check_chart(slopes_chart(found));
  }
  Answer never = answer(scene_of("first_slope"), 12);
  never.statics.first_lift_off.reset();
  never.statics.first_wheel = -1;
  never.statics.margin.reset();
  never.worst.reset();
  for (EnvelopePoint& point : never.by_heading) point.first_lift_off.reset();
  check_chart(heading_chart(never, true));
  check_chart(heading_chart(never, false));
  check_chart(slopes_chart(never));
  CHECK_FALSE(why_chart(never));
  for (EnvelopePoint& point : never.by_heading) point.failed = true;
  check_chart(heading_chart(never, true));
  CHECK(svg(heading_chart(never, true)).find("no answer at 12 of 12 headings") != std::string::npos);
}

TEST_CASE("what gives way: without an answer there is no bar at this heading, and the first remark says so") {
  Scene scene = load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/tests/data/uneven_no_answer.toml");
  const Answer found = answer(scene, 1);
  REQUIRE(found.statics.status == RestStatus::unsolved);
  REQUIRE((found.limits.tyre_overload || found.limits.steering_gone));  // there was a bar to draw
  const Chart chart = slopes_chart(found);
  check_chart(chart);
  for (const ChartBar& bar : chart.bars) {
    CAPTURE(bar.name);
    if (bar.name.find("worst heading") != std::string::npos || bar.name.find("to compare") != std::string::npos)
      continue;
    CHECK_FALSE(bar.to);
    CHECK(bar.words == "no answer");
  }
  REQUIRE_FALSE(chart.remarks.empty());
  CHECK(chart.remarks.front().starts_with("NO ANSWER"));
  // Where a rating is passed leaves the features out: the bar's name says so.
  Answer rough = answer(scene_of("bucket_up"), 1);
  rough.limits.tyre_overload = 0.1, rough.limits.overloaded_wheel = kRearLeft;
  Feature hole;
  hole.kind = FeatureKind::hole, hole.length = 1.2, hole.height = 0.25, hole.x = 30;
  rough.scene.terrain.features = {hole};
  const Chart uneven = slopes_chart(rough);
  const auto rating = std::ranges::find_if(
      uneven.bars, [](const ChartBar& bar) { return bar.name.find("tyre over") != std::string::npos; });
  REQUIRE(rating != uneven.bars.end());
  CHECK(rating->name.ends_with(", even slope"));
}

TEST_CASE("a heading without an answer is hatched and named, never drawn as nothing or as a way to the middle") {
  Answer some = answer(scene_of("first_slope"), 72);
  for (const std::size_t lost : {10u, 11u, 12u, 13u, 0u, 71u}) {
    some.by_heading[lost].failed = true;
    some.by_heading[lost].first_lift_off.reset();
  }
  const std::string name = "no answer at 6 of 72 headings: the worst may be among them";
  for (const bool polar : {true, false}) {
    CAPTURE(polar);
    const Chart chart = heading_chart(some, polar);
    check_chart(chart);
    // Three stretches: the four in a row, and those on either side of +-180, each out to its solved neighbours.
    REQUIRE(chart.stretches.size() == 3);
    CHECK_NEAR(chart.stretches[1].to - chart.stretches[1].from, 5 * 5, 1e-9);
    CHECK_NEAR(chart.stretches[0].from, -180, 1e-9);
    CHECK_NEAR(chart.stretches[2].to, 180, 1e-9);
    CHECK(chart.stretches[1].name == name);
    CHECK(svg(chart).find("worst may be among them") != std::string::npos);
    CHECK(svg(chart).find("orst of those solved") != std::string::npos);
    CHECK(svg(chart).find("worst of all") == std::string::npos);
    for (const ChartPoint& point : chart.series.front().points)
      for (const ChartStretch& stretch : chart.stretches)
        if (point.x > stretch.from + 1e-9 && point.x < stretch.to - 1e-9) CHECK_FALSE(point.y);
    // As many hatched pieces as stretches, and none of a polar chart reaches the middle.
    const PageSheet sheet = plot_of(chart, 800);
    int hatched = 0;
    for (const auto& mark : sheet.marks) {
      const auto* path = std::get_if<PagePath>(&mark);
      if (!path || path->fill != Pattern::hatched || path->ink.r != palette::kInkSoft.r || path->points.size() < 4)
        continue;
      ++hatched;
      if (polar && path->points.size() > 4)
        for (const PagePoint& p : path->points) CHECK(std::hypot(p.x - (215.0 + 20), p.y - (215.0 + 24)) > 20);
    }
    CHECK(hatched == 4);  // one is the key: on the plain chart because its name is wider than every stretch
  }
  CHECK(heading_chart(answer(scene_of("first_slope"), 12), true).stretches.empty());
}

TEST_CASE("the dial alone has the curve of the whole chart, and fits its square however small and steep") {
  Answer found = answer(scene_of("first_slope"), 36);
  const auto first = [](const Chart& chart) {
    std::vector<std::pair<double, std::optional<double>>> points;
    for (const ChartPoint& point : chart.series.front().points) points.push_back({point.x, point.y});
    return points;
  };
  CHECK(first(heading_dial(0.3, 0, found.by_heading)) == first(heading_chart(found)));
  found.by_heading[3].failed = true;
  for (const double side : {90.0, 138.0, 430.0})
    for (const double slope : {0.0, 18 * kDegree, 60 * kDegree, 80 * kDegree})
      for (const std::span<const EnvelopePoint> points : {std::span<const EnvelopePoint>(found.by_heading), {}}) {
        const PageSheet dial = dial_of(heading_dial(slope, -0.6, points), {.side = side, .rim_words = false});
        CAPTURE(side);
        CAPTURE(slope);
        CHECK(dial.width == side);
        CHECK(dial.height == side);
        std::size_t hatched = 0, words = 0;
        for (const auto& mark : dial.marks)
          if (const auto* path = std::get_if<PagePath>(&mark)) {
            hatched += path->fill == Pattern::hatched ? 1 : 0;
            for (const PagePoint& p : path->points)
              CHECK(std::hypot(p.x - side / 2, p.y - side / 2) <= side / 2 + 1e-9);
          } else {
            ++words;
          }
        CHECK(words == 2);  // 20 and 40; 60 is the rim
        if (points.empty()) CHECK(hatched == 0);
        if (!points.empty() && slope == 0) CHECK(hatched == 1);  // the heading without an answer
        if (!points.empty() && slope > 1) CHECK(hatched == 35);  // and every other one but its two neighbours
      }
}

TEST_CASE("degrees left is not drawn with two wheels in the air, nor after the machine has gone over") {
  for (const char* name : {"pull_too_high", "turn_uphill"}) {
    CAPTURE(name);
    const Recording recording = run(scene_of(name));
    const Chart chart = margin_chart(recording);
    check_chart(chart);
    double balance = 1e9;
    for (const Event& event : recording.events)
      if (event.kind == EventKind::point_of_no_return) balance = std::min(balance, event.time);
    REQUIRE(balance < 1e9);
    const double nothing = 1e-4 * total_mass(build(scene_of(name))) * 9.81;
    std::size_t hidden = 0, drawn = 0;
    for (std::size_t i = 0; i < recording.states.size(); ++i) {
      const State& state = recording.states[i];
      const auto up = std::count_if(state.wheels.begin(), state.wheels.end(),
                                    [&](const WheelState& wheel) { return wheel.load < nothing; });
      const bool none = up >= 2 || state.time >= balance;
      CHECK((!none || !chart.series.front().points[i].y));
      if (none && angle_left(build(scene_of(name)), state)) ++hidden;
      if (chart.series.front().points[i].y) ++drawn;
    }
    CHECK(hidden > 5);  // there was a number to hide
    CHECK(drawn > 50);
    REQUIRE_FALSE(chart.stretches.empty());
    CHECK(svg(chart).find("gone over") != std::string::npos);
    // Its least value, taken before it went over, is not said as if it were that of the whole run.
    CHECK(svg(chart).find("Least:") == std::string::npos);
    CHECK(svg(chart).find("Least while it has a meaning") != std::string::npos);
  }
  CHECK(margin_chart(run(scene_of("first_slope", {"programme.drop_height_m=0"}))).stretches.empty());
}

TEST_CASE("the bars of the breakdown begin where the one before ends, and the last is the margin") {
  const Answer found = with_reasons(answer(scene_of("bucket_up"), 1));
  const auto chart = why_chart(found);
  REQUIRE(chart);
  REQUIRE(chart->bars.size() == found.breakdown->causes.size() + 4);
  for (std::size_t i = 1; i <= found.breakdown->causes.size(); ++i)
    CHECK_NEAR(*chart->bars[i].from, *chart->bars[i - 1].to, 1e-9);
  const ChartBar& whole = chart->bars[chart->bars.size() - 3];
  CHECK_NEAR(*whole.to, *chart->bars[chart->bars.size() - 4].to, 1e-6);
  CHECK_NEAR(*chart->bars.back().to, *found.statics.margin / kDegree, 0.02);  // on even ground the same answer
}

TEST_CASE("on features the causes, which are of an even slope, leave nothing over, and a page without rest says so") {
  Answer found = with_reasons(answer(scene_of("over_a_stump"), 1));
  REQUIRE(found.breakdown);
  REQUIRE_FALSE(found.scene.terrain.features.empty());
  const auto chart = why_chart(found);
  REQUIRE(chart);
  for (const ChartBar& bar : chart->bars)
    CHECK((bar.name != "left" && bar.name != "past it" && bar.name != "the slope takes"));
  const std::string words = words_on(report_pages(found, {}));
  CHECK(words.find("Why, were the slope even") != words.npos);
  CHECK(words.find("the slope takes") == words.npos);
  CHECK(words.find("as it stands here") != words.npos);
  found.statics.rest.reset();
  found.statics.status = RestStatus::unsolved;
  found.scene.ballast.implement.mass = 300;
  const auto pages = report_pages(found, {2, 2, std::vector<std::uint8_t>(16, 128), "Drawn as it is set down."});
  const std::string none = words_on(pages);
  CHECK(none.find("as it stands here") == none.npos);
  CHECK(none.find("Drawn as it is set down.") != none.npos);
  CHECK(none.find("As computed") == none.npos);
  CHECK(none.find("300 kg, mounted") != none.npos);
}

TEST_CASE("charts of a run show what happened in it") {
  Scene scene = scene_of("over_a_stump");
  scene.programme.duration = 6;
  const Recording recording = run(scene);
  const Chart margin = margin_chart(recording), loads = loads_chart(recording);
  check_chart(margin);
  check_chart(loads);
  CHECK(margin.events.size() == recording.events.size());
  CHECK(loads.series.size() == kWheels);
  // At a stored frame the chart has the recording's own number.
  const std::size_t frame = 100;
  CHECK_NEAR(*loads.series[kRearLeft].points[frame].y,
             recording.states[frame].wheels[kRearLeft].load / kStandardGravity, 1e-9);
  CHECK(svg(loads).find("front left wheel lifts") != std::string::npos);
  CHECK_THROWS_AS(margin_chart(Recording{}), InputError);
}

TEST_CASE("the fill chart agrees with the answer at the scene's own fill") {
  const Scene scene = scene_of("first_slope");
  const Chart chart = fills_chart(scene);
  check_chart(chart);
  REQUIRE(chart.series.size() >= media().size());
  const auto medium = static_cast<std::size_t>(scene.ballast.fill[kRearLeft].medium);
  const auto& points = chart.series[medium].points;
  const auto at = std::find_if(points.begin(), points.end(), [](const ChartPoint& p) { return p.x == 75; });
  REQUIRE(at != points.end());
  CHECK_NEAR(*at->y, *first_lift_off(build(scene)).slope / kDegree, 1e-6);
  // Without liquid, all are the same machine.
  for (std::size_t i = 0; i < media().size(); ++i)
    CHECK_NEAR(*chart.series[i].points.front().y, *chart.series.front().points.front().y, 1e-9);
}

TEST_CASE("the fill chart marks every liquid that is frozen, by its dash, its name and the first remark") {
  const Chart mild = fills_chart(scene_of("first_slope"));
  for (const ChartSeries& series : mild.series) CHECK(series.dash != Dash::dashed);  // kept for what is frozen
  const Scene cold = scene_of("first_slope", {"settings.temperature_c=-25"});
  const Chart chart = fills_chart(cold);
  check_chart(chart);
  REQUIRE(chart.series.size() >= media().size());
  std::size_t frozen = 0;
  for (std::size_t i = 0; i < media().size(); ++i) {
    const ChartSeries& series = chart.series[i];
    CAPTURE(series.name);
    const bool ice = winter(media()[i].medium, 0, cold.settings.temperature).frost == Frost::solid;
    CHECK((series.dash == Dash::dashed) == ice);
    CHECK((series.name.find("frozen at -25 °C") != std::string::npos) == ice);
    REQUIRE_FALSE(chart.remarks.empty());
    if (ice) CHECK(chart.remarks.front().find(media()[i].name) != std::string::npos);
    frozen += ice;
  }
  CHECK(frozen > 1);
  CHECK(frozen < media().size());
  CHECK(chart.remarks.front().starts_with("FROZEN"));
  for (const std::string& limit : chart.limits) CHECK(limit.find("frost are not in this chart") == std::string::npos);
}

TEST_CASE("words that could break a file are written as words") {
  Scene scene = scene_of("first_slope");
  scene.title = "<b>\"fast\" & steep</b>\x01";
  scene.vehicle.name = std::string(150, 'W');
  const std::string text = svg(slopes_chart(answer(scene, 1)));
  CHECK(well_formed(text));
  CHECK(text.find("<b>") == text.npos);
}

TEST_CASE("a PNG has the size asked for, and appears whole or not at all") {
  const Folder folder;
  const Chart chart = slopes_chart(answer(scene_of("first_slope"), 1));
  const PageSheet sheet = sheet_of(chart);
  write_png(folder.path / "a.png", chart, 1.5);
  write_png(folder.path / "b.png", chart, 1.5);
  const std::string a = read_text(folder.path / "a.png");
  CHECK(a == read_text(folder.path / "b.png"));
  REQUIRE(a.size() > 2000);
  CHECK(a.substr(1, 3) == "PNG");
  const auto big_endian = [&](std::size_t at) {
    unsigned value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<unsigned char>(a[at + i]);
    return value;
  };
  CHECK(big_endian(16) == static_cast<unsigned>(std::lround(1.5 * sheet.width)));
  CHECK(big_endian(20) == static_cast<unsigned>(std::lround(1.5 * sheet.height)));
  CHECK_THROWS_AS(write_png(folder.path / "no" / "a.png", chart), InputError);
  CHECK_THROWS_AS(write_svg(folder.path / "no" / "a.svg", chart), InputError);
  CHECK(folder.files() == 2);
}

TEST_CASE("every chart in the list is made by its name, and no other") {
  const Scene scene = scene_of("first_slope");
  Scene short_scene = scene;
  short_scene.programme.duration = 0.2;
  const Recording recording = run(short_scene);
  for (const std::string& name : chart_keys()) {
    CAPTURE(name);
    if (name == "fills") continue;  // takes seconds; a case of its own
    CHECK_FALSE((is_chart_of_run(name) ? make_chart(name, recording) : make_chart(name, scene)).title.empty());
    if (is_chart_of_run(name))
      CHECK_THROWS_AS(make_chart(name, scene), InputError);
    else
      CHECK_THROWS_AS(make_chart(name, recording), InputError);
  }
  CHECK_THROWS_AS(make_chart("nonsense", scene), InputError);
}

TEST_CASE("the same scene has the same hash, another has another") {
  const Scene scene = scene_of("first_slope");
  CHECK(scene_hash(scene) == scene_hash(parse_scene(write_scene(scene), "again")));
  CHECK(scene_hash(scene) != scene_hash(scene_of("first_slope", {"terrain.slope_deg=18.001"})));
}

TEST_CASE("lines are broken within their room and lose no word") {
  const std::string words = "one two three four five six seven eight nine ten";
  std::string again;
  for (const std::string& line : wrapped(words, 60, 11)) {
    CHECK(text_width(line, 11) <= 60);
    again += (again.empty() ? "" : " ") + line;
  }
  CHECK(again == words);
  CHECK(text_width("wider", 22) > 1.9 * text_width("wider", 11));
}

TEST_CASE("on a page no line breaks inside a number or before its unit") {
  const std::string words = "front right tyre 1 977 kg of 1 880 kg, 5.2 % over its rating at 30 km/h";
  for (double room = 1; room < 500; room += 7) {
    CAPTURE(room);
    std::string all = "\n";
    for (const std::string& line : wrapped(words, room, 11)) all += line + "\n";
    for (const char* whole : {"1 977 kg", "1 880 kg", "5.2 %", "30 km/h"})
      CHECK_MESSAGE(all.find(whole) != std::string::npos, whole << " is broken in" << all);
  }
}

TEST_CASE("ticks are round and as many as fit") {
  CHECK_NEAR(tick_step(60, 6), 10, 1e-12);
  CHECK_NEAR(tick_step(61, 6), 20, 1e-12);
  CHECK_NEAR(tick_step(0.45, 9), 0.05, 1e-12);
  CHECK_NEAR(tick_step(0, 9), 1, 1e-12);
}

TEST_CASE("chart and report from the command line") {
  const Folder folder;
  const std::string scene = "'" SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml'", to = " '" + folder.path.string();
  CHECK(program("chart " + scene + to + "/h.svg'").code == 0);
  CHECK(well_formed(read_text(folder.path / "h.svg")));
  CHECK(program("report " + scene + to + "/r.pdf' --no-picture").code == 0);
  for (const auto& [arguments, says] :
       {std::pair<std::string, const char*>{"chart " + scene + to + "/h.jpg'", ".svg or .png"},
        {"chart " + scene + to + "/h.svg' --of nonsense", "--of"},
        {"chart " + scene + to + "/h.svg' --of time --plain", "--plain"},
        {"chart /nowhere.toml" + to + "/h.svg'", "there is no such file"},
        {"chart " + scene + to + "/no/h.svg'", "cannot be written"},
        {"report " + scene + to + "/r.txt'", ".pdf"}}) {
    const auto& this_arguments = arguments;
    CAPTURE(this_arguments);
    const Said said = program(arguments + " 2>&1");
    CHECK(said.code == 2);
    CHECK(said.out.find(says) != said.out.npos);
    CHECK(std::count(said.out.begin(), said.out.end(), '\n') == 1);
  }
  CHECK(folder.files() == 2);
}
