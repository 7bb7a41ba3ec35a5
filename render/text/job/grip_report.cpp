#include "render/text/job/grip_report.h"

#include <fmt/format.h>

#include <cmath>
#include <string_view>
#include <vector>

#include "render/text/words/line_breaks.h"

namespace sidehill::text {
namespace {

using GripJson = nlohmann::ordered_json;

constexpr const char* kGripRoad =
    "For soil only. On a hard road the motion resistance of these equations is far too high. Where the wheel sinks "
    "into "
    "mud the equations end: not known.";
constexpr const char* kGripPrinted =
    "The best slip of these equations is below what is printed for good work in the field: 11 to 13 % on tilled soil "
    "(University of Arizona Cooperative Extension), 8 to 12 % (BLT Wieselburg).";
constexpr const char* kGripUnchecked =
    "Not known: whether the tyre and its load are within the range of the equations (width over diameter 0.1 to 0.7, "
    "deflection over section height 0.10 to 0.30, load over width times diameter 15 to 55 kN/m2). A mobility number "
    "alone does not say.";

const char* set_name(TyreSet set) { return set == TyreSet::bias ? "bias" : "radial"; }

std::string grip_share(double ratio) { return fmt::format("{:.1f} %", ratio * 100); }

std::string grip_row(std::string_view name, const std::string& value, std::string_view note) {
  return fmt::format("  {:34}{:>10}  {}\n", name, value, note);
}

std::string left_words(const RangeLeft& r, Units units) {
  const ReadUnit unit = read_unit(r.unit, units);
  return fmt::format("{} ({}) is {:.3g}{}{}, and the equations were fitted to {:.3g} to {:.3g}.", r.what, r.symbol,
                     r.value * unit.factor, unit.name.empty() ? "" : " ", unit.name, r.low * unit.factor,
                     r.high * unit.factor);
}

std::optional<std::vector<RangeLeft>> left_by(const GripQuestion& q) {
  if (!q.tyre || !q.load) return std::nullopt;
  return ranges_left(*q.tyre, *q.load);
}

// "14.2 kN" where the load is known.
std::string pull_words(const GripQuestion& q, double ratio, Units units) {
  return q.load ? ", " + measured(Quantity::force, ratio * *q.load, 1, units) : "";
}

std::string first_words(const GripQuestion& q, const Traction& t, Units units) {
  std::string text;
  if (const auto left = left_by(q); left && !left->empty()) {
    text += "OUTSIDE THE RANGE OF THE EQUATIONS: the numbers below are a guess.\n";
    for (const RangeLeft& r : *left) text += paragraph("  - ", left_words(r, units));
  }
  if (!(t.net > 0))
    return text + paragraph("", fmt::format("DOES NOT PULL: at {} slip this wheel has to be pushed, with {} of its "
                                            "load{}.",
                                            grip_share(q.slip), grip_share(-t.net), pull_words(q, -t.net, units)));
  return text + paragraph("", fmt::format("At {} slip this wheel pulls {} of its load{}. {} of the power at its axle "
                                          "becomes pull, the rest is lost in slip and in rolling.",
                                          grip_share(q.slip), grip_share(t.net), pull_words(q, t.net, units),
                                          grip_share(t.efficiency)));
}

std::string best_words(const WheelTraction& wheel, const GripQuestion& q, Units units) {
  const auto best = slip_of_best_efficiency(wheel);
  if (!best) return paragraph("", "This wheel pulls nothing at any slip on this ground: it has no best slip.");
  const double most = slip_of_most_net(wheel);
  const Traction at = traction_at(wheel, *best);
  std::string text = grip_row("slip of the best efficiency", grip_share(*best),
                              fmt::format("{} of the power; pull {} of the load{}", grip_share(at.efficiency),
                                          grip_share(at.net), pull_words(q, at.net, units)));
  text += grip_row("slip of the greatest pull", grip_share(most),
                   fmt::format("pull {} of the load{}", grip_share(net_ratio(wheel, most)),
                               pull_words(q, net_ratio(wheel, most), units)));
  return text;
}

std::vector<std::string> grip_cautions(const GripQuestion& q) {
  std::vector<std::string> all = {kTractionCaution};
  const auto left = left_by(q);
  if (!left) all.emplace_back(kGripUnchecked);
  all.emplace_back(kGripRoad);
  all.emplace_back(kGripPrinted);
  return all;
}

}  // namespace

std::string grip_table(const GripQuestion& q, Units units) {
  const WheelTraction wheel = wheel_traction(q.set, q.mobility);
  const Traction t = traction_at(wheel, q.slip);
  std::string text = first_words(q, t, units);
  text += fmt::format("\nOne driven wheel, {} tyre, at {} slip\n", set_name(q.set), grip_share(q.slip));
  text += grip_row("mobility number", fmt::format("{:.1f}", q.mobility), "more: firmer soil, larger tyre, less load");
  text +=
      grip_row("gross traction ratio", fmt::format("{:.3f}", t.gross), "what the axle turns into force, over the load");
  text += grip_row("motion resistance ratio", fmt::format("{:.3f}", t.resistance), "what rolling takes of it");
  text += grip_row("net traction ratio", fmt::format("{:.3f}", t.net), "what is left to pull with");
  text += grip_row("tractive efficiency", grip_share(t.efficiency),
                   t.net > 0 ? "share of the axle's power that becomes pull" : "below 0: it is pushed");
  text += best_words(wheel, q, units);
  text += "\nCautions\n";
  for (const std::string& caution : grip_cautions(q)) text += paragraph("  - ", read_in(caution, units));
  return text;
}

GripJson grip_json(const GripQuestion& q) {
  const WheelTraction wheel = wheel_traction(q.set, q.mobility);
  const Traction t = traction_at(wheel, q.slip);
  const auto best = slip_of_best_efficiency(wheel);
  const double most = slip_of_most_net(wheel);
  const auto if_pulls = [&](double value) { return best ? GripJson(value) : GripJson(); };
  GripJson json = {{"program", "sidehill " SIDEHILL_VERSION},
                   {"tyre", set_name(q.set)},
                   {"slip", q.slip},
                   {"mobility_number", q.mobility},
                   {"gross_traction_ratio", t.gross},
                   {"motion_resistance_ratio", t.resistance},
                   {"net_traction_ratio", t.net},
                   {"tractive_efficiency", t.efficiency},
                   {"pull_n", q.load ? GripJson(t.net * *q.load) : GripJson()},
                   {"best_slip", if_pulls(best.value_or(0))},
                   {"best_efficiency", if_pulls(traction_at(wheel, best.value_or(0)).efficiency)},
                   {"greatest_pull_slip", if_pulls(most)},
                   {"greatest_net_traction_ratio", if_pulls(net_ratio(wheel, most))}};
  const auto left = left_by(q);
  json["ranges_left"] = left ? GripJson::array() : GripJson();
  if (left)
    for (const RangeLeft& r : *left)
      json["ranges_left"].push_back(
          {{"what", r.what}, {"value", r.value}, {"low", r.low}, {"high", r.high}, {"unit", r.unit}});
  json["cautions"] = grip_cautions(q);
  return json;
}

}  // namespace sidehill::text
