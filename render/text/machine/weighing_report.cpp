#include "render/text/machine/weighing_report.h"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "render/text/rest/answer_json.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kLimit =
    "Rigid frame, firm level floor, each raised wheel borne under its centre, tank full or empty and said so (a "
    "half-full "
    "one runs to the low end and spoils the height). Errors at two standard deviations. ISO 789-6 decides for a signed "
    "figure; this is its arithmetic, not a certificate.";
constexpr const char* kDanger =
    "A raised tractor kills when it slips: nobody under it or on it, stands under the axle before anybody comes near, "
    "chocks, "
    "brake, a lifting point and gear made for the load.";

// A generic utility tractor with the front raised and both axles read, for who has no sheet yet: our own numbers.
constexpr double kExampleHeight = 0.9;  // of its centre of gravity [m]
Weighing example() {
  Weighing w;
  w.wheelbase = 2.45;
  w.front_radius = 0.575;
  w.rear_radius = 0.785;
  w.front = 1640;
  w.rear = 3180;
  w.height = 0.6;
  return weighed_at(w, kExampleHeight);
}

// What makes a sheet doubtful though its sums can be done.
std::vector<std::string> doubtful(const WeighingSheet& sheet, const WeighedCentre& c) {
  constexpr double kSteep = 25 * kDegree;
  const Weighing& w = sheet.weighing;
  std::vector<std::string> all;
  if (std::abs(c.angle) > kSteep)
    all.push_back(
        fmt::format("Pitched by {}: more than the 25° this method is meant for. Raise it less.", degrees(c.angle)));
  const double radius = w.front_raised ? w.rear_radius : w.front_radius;
  if (c.z < 0.8 * radius || c.z > 2 * radius)
    all.push_back(
        fmt::format("A centre of gravity {:.2f} m high is odd for a tractor on wheels of {:.2f} m: read the raised "
                    "loads again before you use it.",
                    c.z, radius));
  const double track = 0.5 * (w.front_track + w.rear_track);
  if (c.y && track > 0 && std::abs(*c.y) > 0.08 * track)
    all.push_back("One side carries far more than the other: read the wheels again.");
  const WeighingTolerance& t = sheet.tolerance;
  if (t.scale * c.mass + t.scale_least <= 0 || t.length <= 0)
    all.push_back("No scale and no tape is exact: with a tolerance of nothing the error stated here is too small.");
  return all;
}

}  // namespace

const char* weighing_danger() { return kDanger; }

std::vector<std::string> weighing_cautions(const WeighingSheet& sheet) {
  std::vector<std::string> all = doubtful(sheet, centre_of_gravity_of(sheet.weighing));
  all.emplace_back(kDanger);
  all.emplace_back(kLimit);
  return all;
}

Json weighing_json(const WeighingSheet& sheet) {
  const WeighedCentre c = centre_of_gravity_of(sheet.weighing);
  const WeighingError e = error_of(sheet.weighing, sheet.tolerance);
  Json doubts = Json::array(), cautions = doubtful(sheet, c);
  cautions.push_back(kDanger);
  for (const WeighingDoubt& d : e.doubts)
    doubts.push_back(
        {{"what", d.what},
         {d.length ? "tolerance_m" : "tolerance_kg", number_or_null(d.tolerance)},
         {"change_m", {number_or_null(d.change.x), number_or_null(d.change.y), number_or_null(d.change.z)}}});
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"mass_kg", number_or_null(c.mass)},
          {"mass_uncertainty_kg", number_or_null(e.mass)},
          {"centre_of_gravity_m", {number_or_null(c.x), c.y ? number_or_null(*c.y) : Json(), number_or_null(c.z)}},
          {"uncertainty_m",
           {number_or_null(e.centre.x), c.y ? number_or_null(e.centre.y) : Json(), number_or_null(e.centre.z)}},
          {"pitch_deg", number_or_null(c.angle, kDegree)},
          {"front_share", number_or_null(sheet.weighing.front / c.mass)},
          {"doubts", doubts},
          {"limits", kLimit},
          {"cautions", cautions}};
}

std::string weighing_table(const WeighingSheet& sheet, Units units) {
  const WeighedCentre c = centre_of_gravity_of(sheet.weighing);
  const WeighingError e = error_of(sheet.weighing, sheet.tolerance);
  const auto gap = [units](double length) { return measured(Quantity::small_length, length, 0, units); };
  const auto row = [&](const char* name, double value, double error) {
    return fmt::format("  {:44}{:>10}  +-{}\n", name, measured(Quantity::length, value, 3, units), gap(error));
  };
  std::string text;
  for (const std::string& line : doubtful(sheet, c)) text += paragraph("! ", read_in(line, units));
  if (!text.empty()) text += "\n";
  text += fmt::format("Weighed: {} +-{}, {} of it on the front axle, pitched by {}\n\n",
                      shown(Quantity::mass, c.mass, units), measured(Quantity::mass, e.mass, 0, units),
                      percent(sheet.weighing.front / c.mass), degrees(c.angle));
  text += "Centre of gravity\n" + row("ahead of the rear axle", c.x, e.centre.x);
  text +=
      c.y ? row("to the left of the middle", *c.y, e.centre.y)
          : "  to the left of the middle                      not known: weigh the wheels singly, give both tracks\n";
  text += row("above level ground, tyres as they stood", c.z, e.centre.z);
  text += "\nWhat the height owes its error to\n";
  for (std::size_t i = 0; i < std::min<std::size_t>(5, e.doubts.size()); ++i) {
    const WeighingDoubt& d = e.doubts[i];
    text += fmt::format("  {:30}+-{:>12}{:>15}\n", d.what,
                        d.length ? gap(d.tolerance) : measured(Quantity::mass, d.tolerance, 0, units),
                        gap(std::abs(d.change.z)));
  }
  return text + "\n" + paragraph("  ! ", kDanger) + paragraph("  ! ", read_in(kLimit, units));
}

std::span<const char* const> weighing_steps() {
  static constexpr std::array kSteps{
      "Firm, level concrete, room all round, two people, one of them in charge; nobody else near. Find the maker's "
      "lifting and "
      "stand points first: without them, stop here.",
      "Machine as it works: ballast, liquid, implement or none, bucket at one height and its rams locked, tyres at "
      "their "
      "pressure, tank full (or empty, and say so), 75 kg on the seat or the driver's own weight - never a person "
      "once it is raised.",
      "Measure wheelbase, both tracks, and the height of each wheel's centre. Left and right differ? Take both, "
      "write the mean.",
      "Weigh level, each wheel by itself, all four pads at one height. Weigh three times, drive off between; the "
      "spread is your "
      "scale's tolerance.",
      "Chock the axle that stays down before and behind, a finger's breadth off; neutral, and the brake off only "
      "while "
      "the other is raised, for the wheels must roll a little then. Brake on as soon as it stands. Lock a pivoting "
      "front axle with blocks at its stops if the rear is raised.",
      "Raise one axle straight up - the front where you can choose - by a hoist or by jacks in small steps, stands "
      "following "
      "underneath. Nobody under it or on it. It stands on stands under its wheel centres before anybody measures.",
      "Read the load of both axles if the stands are on pads (the lighter axle's load gives the smaller error), else "
      "of "
      "the one that stayed down; the height the other's wheel centres rose, and again the height "
      "of the wheel "
      "centres below: their tyres give more now.",
      "Come down the way you went up. Repeat the raised weighing at another height: the two answers must agree "
      "within their errors."};
  return kSteps;
}

std::string weighing_plan(const WeighingSheet* sheet, Units units) {
  std::string text = "How to weigh for the centre of gravity, safely (after ISO 789-6)\n";
  int step = 0;
  for (const char* words : weighing_steps()) text += paragraph(fmt::format("  {}. ", ++step), read_in(words, units));
  const Weighing w = sheet ? sheet->weighing : example();
  const WeighingTolerance t = sheet ? sheet->tolerance : WeighingTolerance{};
  const double z = sheet ? centre_of_gravity_of(w).z : kExampleHeight;
  text +=
      "\n" +
      paragraph(
          "", fmt::format("{}, {} with its centre of gravity about {} up, loads to {:.1f} % or {}, whichever is more, "
                          "lengths to {}: raise the {} axle by",
                          sheet ? "As this sheet weighs" : "For example (our own numbers; a weighing file takes yours)",
                          shown(Quantity::mass, w.front + w.rear, units), measured(Quantity::length, z, 2, units),
                          100 * t.scale, measured(Quantity::mass, t.scale_least, 0, units),
                          measured(Quantity::small_length, t.length, 0, units), w.front_raised ? "front" : "rear"));
  for (const double wanted : {0.05, 0.03, 0.02}) {
    const auto height = least_raise(w, t, z, wanted);
    const std::string off = measured(Quantity::small_length, wanted, 0, units);
    text += height ? fmt::format("  {} for the height to +-{}\n", measured(Quantity::length, *height, 2, units), off)
                   : fmt::format("  no height up to 25° of pitch does for +-{}: read both axles, use a better scale\n",
                                 off);
  }
  return text + "\n" + paragraph("  ! ", kDanger) + paragraph("  ! ", kCautionLine);
}

}  // namespace sidehill::text
