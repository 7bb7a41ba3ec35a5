#include "render/text/motion/cab_card_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/motion/slope_advice.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/rest/warnings.h"
#include "render/text/words/ground_words.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/insight/answer.h"
#include "sim/rest/mass_sums.h"
#include "vehicles/liquid.h"
#include "vehicles/loader_tool.h"

namespace sidehill::text {
namespace {

std::string card_mass(double mass, Units units) { return shown(Quantity::mass, mass, units); }
std::string card_length(double length, Units units) { return shown(Quantity::length, length, units); }

// Of a length as a person sets it up: no more digits than it is worth.
std::string rough_length(double length, Units units) { return measured(Quantity::length, length, 2, units); }
std::string card_speed(double speed, Units units) { return read_in(fmt::format("{:.3g} km/h", speed * 3.6), units); }

std::string way_sentence(CardWay way) {
  switch (way) {
    case CardWay::slides:
      return "it slides";
    case CardWay::lifts:
      return "a wheel lifts";
    case CardWay::over:
      return "it goes over";
  }
  return "-";
}

std::string case_words(CardCase what) {
  switch (what) {
    case CardCase::standing:
      return "standing still";
    case CardCase::bump:
      return "driven slowly over a bump";
    case CardCase::bend:
      return "in a bend";
  }
  return "-";
}

std::string load_part(const CardRow& row, Units units) {
  return row.payload > 0 ? "with " + card_mass(row.payload, units) : std::string("empty");
}

std::string tyre_words(const Axle& axle, Units units) {
  return fmt::format("{}{}, {}, track {}", axle.tyre.size, axle.dual_spacing > 0 ? " dual" : "",
                     measured(Quantity::pressure, axle.tyre.pressure, 0, units), rough_length(axle.track, units));
}

std::string fill_words(const Scene& scene, const Model& model, int left, Units units) {
  const auto one = [&](int wheel) {
    const auto i = static_cast<std::size_t>(wheel);
    const TyreFill& fill = scene.ballast.fill[i];
    if (!(fill.fill_fraction > 0)) return std::string("air");
    return fmt::format("{}, {} full", read_in(medium_name(mix_of(scene.ballast, i)), units),
                       percent(fill.fill_fraction));
  };
  const std::string a = one(left), b = one(left + 1);
  const double mass = fill_mass(model, is_front(left));
  std::string words = a == b ? a : fmt::format("left {}, right {}", a, b);
  if (mass > 0) words += fmt::format(", {} on the axle", card_mass(mass, units));
  return words;
}

void add_mass(std::vector<std::string>& parts, const char* name, double mass, Units units, const char* more = "") {
  if (mass > 0) parts.push_back(fmt::format("{} {}{}", name, card_mass(mass, units), more));
}

std::string joined(const std::vector<std::string>& parts, const char* between) {
  std::string all;
  for (const std::string& part : parts) all += (all.empty() ? "" : between) + part;
  return all;
}

std::string ballast_words(const Scene& scene, Units units) {
  const BallastPlan& b = scene.ballast;
  std::vector<std::string> parts;
  add_mass(parts, "front weights", b.front_weights, units);
  add_mass(parts, "rear weights", b.rear_weights, units);
  add_mass(parts, "each front wheel", b.front_wheel_weights, units);
  add_mass(parts, "each rear wheel", b.rear_wheel_weights, units);
  add_mass(parts, "mounted implement", b.implement.mass, units);
  add_mass(parts, "trailer", b.trailer.mass, units);
  for (const PointMass& mass : b.point_masses) add_mass(parts, mass.name.c_str(), mass.mass, units);
  return parts.empty() ? "no weights" : joined(parts, ", ");
}

std::string loader_words(const CabCard& card, const Scene& scene, Units units) {
  if (!card.loader) return "none";
  std::vector<std::string> heights, loads;
  for (const CardRow& row : card.rows) {
    if (row.payload == card.rows.front().payload) heights.push_back(card_length(row.pin_height, units));
    if (row.pin_height == card.rows.front().pin_height)
      loads.push_back(row.payload > 0 ? card_mass(row.payload, units) : "empty");
  }
  const BallastPlan& b = scene.ballast;
  std::string words =
      fmt::format("{}; pin at {}; {}", words_of(b.loader_tool).name, joined(heights, ", "), joined(loads, ", "));
  if (b.hanging_mass > 0) words += fmt::format("; {} on a rope", card_mass(b.hanging_mass, units));
  return words;
}

// " (facing downhill)" where that is the worst heading of every row.
std::string worst_heading_words(const CabCard& card) {
  std::string all;
  for (const CardRow& row : card.rows) {
    const auto& heading = row.at(CardCase::standing).heading;
    const std::string one = heading ? heading_words(*heading) : "";
    if (one.empty() || (!all.empty() && one != all)) return {};
    all = one;
  }
  return fmt::format(" ({})", all);
}

// At which temperature it was worked out, and when the fills freeze.
std::string frost_words(const Scene& scene, Units units) {
  const double now = scene.settings.temperature;
  std::string words = fmt::format("worked out at {}", shown(Quantity::temperature, now, units));
  std::vector<std::string> said;
  for (std::size_t i = 0; i < kWheels; ++i) {
    if (!(scene.ballast.fill[i].fill_fraction > 0)) continue;
    const FreezingPoints points = freezing_points(mix_of(scene.ballast, i));
    const std::string one =
        !points.known        ? "when the fill freezes is not known"
        : !points.slush_free ? "nothing in the fill freezes"
                             : "first ice in the fill below " + shown(Quantity::temperature, *points.slush_free, units);
    if (std::ranges::find(said, one) == said.end()) said.push_back(one);
  }
  if (!said.empty()) words += "; " + joined(said, "; ") + ". Frozen fills: do not drive";
  return words + ".";
}

nlohmann::ordered_json cell_json(const CardCell& cell, const CardMotion& motion) {
  const bool given = cell.answer == CardAnswer::gives_way;
  const int degrees = whole_degrees_down(cell.slope);
  const std::optional<int> percent = whole_percent_down(degrees);
  nlohmann::ordered_json json{
      {"answer", std::string(kCardAnswers[static_cast<std::size_t>(cell.answer)].key)},
      {"slope_deg", given ? nlohmann::ordered_json(degrees) : nullptr},
      {"slope_percent", given && percent ? nlohmann::ordered_json(*percent) : nullptr},
      {"gives_way", given ? nlohmann::ordered_json(kCardWays[static_cast<std::size_t>(cell.way)].key) : nullptr},
      {"lower_end_deg", given ? number_or_null(cell.slope, kDegree) : nullptr},
      {"found_deg", number_or_null(cell.found, kDegree)},
      {"doubt_deg", cell.found ? number_or_null(cell.doubt, kDegree) : nullptr},
      {"heading_deg", number_or_null(cell.heading, kDegree)},
      {"stopped", cell.stopped},
      {"as_standing", cell.as_standing}};
  const CardCellWords words = card_cell_words(cell, motion);
  json["words"] = words.way.empty() ? words.slope : words.slope + ", " + words.way;
  return json;
}

}  // namespace

std::optional<int> whole_percent_down(int degrees) {
  if (degrees < 0 || degrees > 80) return std::nullopt;
  const int step = degrees < 65 ? 1 : 10;
  return step * static_cast<int>(std::floor(100 * std::tan(degrees * kDegree) / step + 1e-9));
}

std::string card_slope(double slope) { return degrees_and_percent(whole_degrees_down(slope) * kDegree, 0, true); }

CardCellWords card_cell_words(const CardCell& cell, const CardMotion& motion) {
  switch (cell.answer) {
    case CardAnswer::gives_way:
      return {card_slope(cell.slope), std::string(kCardWays[static_cast<std::size_t>(cell.way)].key)};
    case CardAnswer::nothing_found:
      return {fmt::format("none up to {}", degrees_and_percent(motion.steepest, 0, true)), ""};
    case CardAnswer::not_known:
      break;
  }
  return {cell.stopped ? "stops at it" : "not known", ""};
}

CardHead card_head(CardCase what, const CardMotion& motion, Units units) {
  switch (what) {
    case CardCase::standing:
      return {"standing", "worst heading"};
    case CardCase::bump:
      return {"over a bump", fmt::format("estimate; {} high, {}", rough_length(motion.bump_height, units),
                                         card_speed(motion.bump_speed, units))};
    case CardCase::bend:
      return {"in a bend",
              fmt::format("estimate; radius {}, {}", read_in(fmt::format("{:g} m", motion.bend_radius), units),
                          card_speed(motion.bend_speed, units))};
  }
  return {};
}

std::string card_row_words(const CardRow& row, const BallastPlan& plan, Units units) {
  return fmt::format("{} at {}, {}", words_of(plan.loader_tool).name, card_length(row.pin_height, units),
                     load_part(row, units));
}

std::string card_height_name(const CabCard& card, double pin_height) {
  const double lowest = card.rows.front().pin_height, full = card.rows.back().pin_height;
  if (pin_height == lowest) return "lowest";
  if (pin_height == full) return "full up";
  return std::abs(pin_height - 0.5 * (lowest + full)) < 1e-9 ? "half up" : "as carried";
}

CardWorst card_worst(const CabCard& card, const Scene& scene, Units units) {
  CardWorst out;
  const std::size_t not_known = cells_with(card, CardAnswer::not_known), all = 3 * card.rows.size();
  if (not_known > 0) out.rest = fmt::format("{} of {} answers are not known and may be worse.", not_known, all);
  const auto worst = worst_of(card);
  if (!worst) {
    out.words = not_known > 0 ? "Not known at which slope it gives way."
                              : fmt::format("Nothing was found up to {}. That is no promise.",
                                            degrees_and_percent(card.motion.steepest, 0, true));
    return out;
  }
  const CardRow& row = card.rows[worst->row];
  const CardCell& cell = row.at(worst->what);
  out.slope = card_slope(cell.slope);
  const bool level = whole_degrees_down(cell.slope) == 0;
  out.words = capital(fmt::format("{}{}{}{}: {}{}.", case_words(worst->what), card.loader ? ", " : "",
                                  card.loader ? card_row_words(row, scene.ballast, units) : "",
                                  row.overloaded ? " (overloaded)" : "", way_sentence(cell.way),
                                  level ? " on level ground already, or nearly" : ""));
  std::size_t alike = 0;
  for (const CardRow& other : card.rows)
    alike += static_cast<std::size_t>(std::ranges::count_if(other.cells, [&](const CardCell& c) {
      return c.answer == CardAnswer::gives_way && whole_degrees_down(c.slope) == whole_degrees_down(cell.slope);
    }));
  if (alike > 1)
    out.rest =
        fmt::format("{} of {} answers are as low as this.{}{}", alike, all, out.rest.empty() ? "" : " ", out.rest);
  return out;
}

std::vector<std::string> card_legend(const CabCard& card, Units units) {
  std::vector<std::string> out{
      "slides = the tyres no longer hold. lifts = a wheel leaves the ground. over = it goes over."};
  out.push_back(fmt::format(
      "Standing: lower end of where it gives way nineteen times in twenty, at the worst of all headings{}. Over a bump "
      "and in a bend: found by runs, less the doubt of standing and the width of the search ({}): an estimate, never "
      "more than standing across. Bump: under the uphill wheels, driven across. Bend: from across the slope, downhill "
      "and round until it stands across again. Another bump, more speed or a jerk at the wheel is worse.",
      worst_heading_words(card), degrees(card.motion.search_width, 2)));
  const auto any_cell = [&](auto is) {
    return std::ranges::any_of(card.rows, [&](const CardRow& row) { return std::ranges::any_of(row.cells, is); });
  };
  if (any_cell([](const CardCell& c) { return c.stopped; }))
    out.emplace_back(
        "stops at it = it does not get over the bump (a low bucket catches on it), so nothing is known. It is not "
        "safe.");
  if (any_cell([](const CardCell& c) { return c.answer == CardAnswer::not_known && !c.stopped; }))
    out.emplace_back("not known = the model finds no answer. It is not safe.");
  if (std::ranges::any_of(card.rows, [](const CardRow& row) {
        const CardCell& standing = row.at(CardCase::standing);
        return std::ranges::any_of(row.cells, [&](const CardCell& c) { return c.slope > standing.slope; });
      }))
    out.emplace_back("Parked, the rear wheels alone hold: standing may give way before moving does.");
  if (cells_with(card, CardAnswer::nothing_found) > 0)
    out.push_back(fmt::format("none up to {}: nothing was found there. It is no promise.",
                              degrees_and_percent(card.motion.steepest, 0, true)));
  if (std::ranges::any_of(card.rows, &CardRow::overloaded))
    out.emplace_back(
        "! = on level ground an axle, a tyre, a mount or the loader carries more than its limit, or may: take load "
        "off.");
  for (const CardRow& row : card.rows)
    if (row.lost > 0) {
      out.emplace_back("At some headings no balance was found: the worst may be among them.");
      break;
    }
  for (std::string& words : out) words = read_in(words, units);
  return out;
}

std::vector<CardSetUp> card_set_up(const CabCard& card, const Scene& scene, const Model& model, Units units) {
  const Vehicle& v = scene.vehicle;
  const char* frame = v.frame.kind == FrameKind::cab    ? "cab"
                      : v.frame.kind == FrameKind::none ? "NO FRAME"
                      : v.frame.folded                  ? "frame FOLDED DOWN: protects nobody"
                                                        : "frame up";
  std::vector<CardSetUp> lines{
      {"Machine",
       fmt::format("{}; {}; {}", read_in(v.name, units), frame,
                   v.driver.on_seat ? (v.driver.belted ? "driver belted" : "driver NOT BELTED") : "no driver")},
      {"Front", fmt::format("{}; {}", tyre_words(v.front, units), fill_words(scene, model, kFrontLeft, units))},
      {"Rear", fmt::format("{}; {}", tyre_words(v.rear, units), fill_words(scene, model, kRearLeft, units))},
      {"Ballast", ballast_words(scene, units)},
      {"Loader", loader_words(card, scene, units)},
      {"Ground", fmt::format("{}, {}; even slope{}", scene.terrain.soil.name, grip_words(scene.terrain.soil),
                             card.features_left_out ? "; bumps and holes of the scene are left out" : "")},
      {"Frost", frost_words(scene, units)}};
  return lines;
}

std::vector<std::string> card_warnings(const CabCard& card, const Scene& scene) {
  // Ice and its cause do not depend on the loader: the lowest row speaks for all.
  const CardRow& row = card.rows.front();
  Answer answer = unanswered(scene_of_row(scene, row.pin_height, row.payload));
  constexpr Stage kAsked[] = {Stage::rest, Stage::loads};
  compute(kAsked, answer);
  const StandVerdict verdict = verdict_on(answer);
  std::vector<std::string> out = plan_cautions(scene);
  for (const StandCause cause : {StandCause::frozen, StandCause::frost_not_known})
    if (verdict.holds(cause)) out.push_back(cause_words(cause, verdict, answer.scene, answer.statics));
  if (const std::string unknown = limits_not_known_words(verdict); !unknown.empty())
    out.push_back(capital(unknown) + ".");
  if (std::string words = without_implement(scene); !words.empty()) out.push_back(std::move(words));
  return out;
}

nlohmann::ordered_json card_json(const CabCard& card, const Scene& scene, const Model& model) {
  using Json = nlohmann::ordered_json;
  const CardMotion& motion = card.motion;
  const CardWorst worst = card_worst(card, scene, Units::si);
  const auto place = worst_of(card);
  Json json{{"program", "sidehill " SIDEHILL_VERSION}, {"title", scene.title}};
  json["worst"] = {
      {"words", worst.words},
      {"rest", worst.rest},
      {"row", place ? Json(place->row) : Json(nullptr)},
      {"case", place ? Json(kCardCases[static_cast<std::size_t>(place->what)].key) : Json(nullptr)},
      {"slope_deg", place ? Json(whole_degrees_down(card.rows[place->row].at(place->what).slope)) : nullptr}};
  json["not_known"] = cells_with(card, CardAnswer::not_known);
  Json rows = Json::array();
  for (const CardRow& row : card.rows) {
    Json one{{"loader_pin_height_m", card.loader ? number_or_null(row.pin_height) : nullptr},
             {"loader_payload_kg", card.loader ? number_or_null(row.payload) : nullptr},
             {"overloaded", row.overloaded},
             {"headings_without_answer", row.lost}};
    for (const auto& [what, key] : kCardCases) one[std::string(key)] = cell_json(row.at(what), motion);
    rows.push_back(one);
  }
  json["rows"] = rows;
  json["motion"] = {{"bump_height_m", number_or_null(motion.bump_height)},
                    {"bump_speed_kmh", number_or_null(motion.bump_speed * 3.6)},
                    {"bend_radius_m", number_or_null(motion.bend_radius)},
                    {"bend_speed_kmh", number_or_null(motion.bend_speed * 3.6)},
                    {"steepest_deg", number_or_null(motion.steepest, kDegree)},
                    {"search_width_deg", number_or_null(motion.search_width, kDegree)}};
  Json set_up = Json::object();
  for (const CardSetUp& line : card_set_up(card, scene, model, Units::si)) {
    std::string key = line.name;
    std::ranges::transform(key, key.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    set_up[key] = line.words;
  }
  json["set_up"] = set_up;
  json["cautions"] = card_warnings(card, scene);
  for (const std::string& words : card_legend(card, Units::si)) json["cautions"].push_back(words);
  json["cautions"].push_back(kCautionLine);
  return json;
}

}  // namespace sidehill::text
