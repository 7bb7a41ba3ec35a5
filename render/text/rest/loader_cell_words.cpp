#include "render/text/rest/loader_cell_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "render/text/words/words.h"

namespace sidehill::text {
namespace {

constexpr double kLeastRear = 0.2;  // of the mass on the rear axle. Source: EN 12525 + A2

std::string with_interval(double slope, const std::optional<Interval>* interval) {
  const std::string middle = degrees_and_percent(slope);
  if (!interval) return middle + " (interval not known yet)";
  if (!*interval) return middle + " (interval not known)";
  const Interval& i = **interval;
  return fmt::format("{} ({})", middle,
                     shown_interval(Quantity::angle, i.low, i.open ? std::nullopt : std::optional(i.high), Units::si));
}

struct Angle {
  LoaderCause cause;
  std::optional<double> slope;
  const std::optional<Interval>* interval;  // nullptr = not known yet
  double least() const {                    // lower end, or the middle until it is known
    if (!slope) return 1e9;
    return interval && *interval ? std::min(*slope, (*interval)->low) : *slope;
  }
};

std::string counterweight_words(const Scene& scene, const LoaderCell& cell, Units units) {
  const Vehicle& v = scene.vehicle;
  const auto mass = [&](double kg) { return shown(Quantity::mass, kg, units); };
  const std::string now = scene.ballast.rear_weights > 0
                              ? fmt::format("now there are {}", mass(scene.ballast.rear_weights))
                              : std::string("now there is none");
  if (!cell.counterweight) return "No counterweight behind is of use: its place lies too far ahead.";
  std::string words;
  if (*cell.counterweight > v.rear_mount.max_mass) {
    words = v.rear_mount.max_mass > 0
                ? fmt::format("Counterweight needed behind: {} in all, MORE than the {} the rear mount takes ({}).",
                              mass(*cell.counterweight), mass(v.rear_mount.max_mass), now)
                : fmt::format("Counterweight needed behind: {} in all, but this machine has no rear mount for it.",
                              mass(*cell.counterweight));
  } else if (*cell.counterweight > 0) {
    words = fmt::format("Counterweight needed behind: {} in all ({}).", mass(*cell.counterweight), now);
  } else {
    words = fmt::format("No counterweight is needed behind for the rear axle's 20 % ({}).", now);
  }
  if (v.front.capacity > 0 && cell.counterweight_front > v.front.capacity)
    words += fmt::format(" With it the front axle carries {}, MORE than the maker's {}.",
                         mass(cell.counterweight_front), mass(v.front.capacity));
  return words;
}

}  // namespace

const char* cause_word(LoaderCause cause) {
  switch (cause) {
    case LoaderCause::nothing:
      return "-";
    case LoaderCause::slides:
      return "slides";
    case LoaderCause::lifts:
      return "a wheel lifts";
    case LoaderCause::goes_over:
      return "goes over";
  }
  return "-";
}

const Interval* interval_of(const LoaderFirst& first, const LoaderDoubt* doubt) {
  if (!doubt || first.cause == LoaderCause::nothing) return nullptr;
  const std::optional<Interval>& one = first.cause == LoaderCause::slides  ? doubt->slide
                                       : first.cause == LoaderCause::lifts ? doubt->first_lift_off
                                                                           : doubt->tip_over;
  return one ? &*one : nullptr;
}

LoaderCellWords loader_cell_words(const Scene& scene, const LoaderCell& cell, const LoaderDoubt* doubt, Units units) {
  LoaderCellWords out;
  const auto mass = [&](double kg) { return shown(Quantity::mass, kg, units); };
  std::vector<std::string> over;
  if (cell.front_axle_used > 1)
    over.push_back(fmt::format("the front axle carries {}", used_words(cell.front_axle_used)));
  if (cell.front_used > 1) over.push_back(fmt::format("a front tyre carries {}", used_words(cell.front_used)));
  if (!(cell.rear_axle > 0))
    over.push_back("it tips forward on level ground");
  else if (cell.rear_axle < kLeastRear * cell.mass)
    over.push_back(
        fmt::format("the rear axle keeps {} of the mass, less than 20 %", percent(cell.rear_axle / cell.mass)));
  if (!over.empty()) {
    std::string words = "NOT ALLOWED: " + over.front();
    for (std::size_t i = 1; i < over.size(); ++i) words += (i + 1 == over.size() ? " and " : ", ") + over[i];
    out.lines.push_back(words + ".");
  }
  std::array<Angle, 3> angles{Angle{LoaderCause::slides, cell.slide, doubt ? &doubt->slide : nullptr},
                              Angle{LoaderCause::lifts, cell.first_lift_off, doubt ? &doubt->first_lift_off : nullptr},
                              Angle{LoaderCause::goes_over, cell.tip_over, doubt ? &doubt->tip_over : nullptr}};
  std::ranges::stable_sort(angles, {}, &Angle::least);
  const double slope = scene.terrain.slope;
  if (const Angle& first = angles.front(); first.slope && *first.slope <= slope)
    out.lines.push_back(fmt::format("PASSED on this slope of {}: it {}.", degrees_and_percent(slope),
                                    first.cause == LoaderCause::lifts ? "lifts a wheel" : cause_word(first.cause)));
  else if (first.slope && first.least() <= slope)
    out.lines.push_back(fmt::format("MAY BE PASSED on this slope of {}: the interval of the angle begins below it.",
                                    degrees_and_percent(slope)));
  out.grave = out.lines.size();
  std::string words;
  for (const Angle& angle : angles) {
    if (!angle.slope) continue;
    const std::string what =
        angle.cause == LoaderCause::lifts ? "a wheel lifts" : fmt::format("it {}", cause_word(angle.cause));
    words +=
        fmt::format("{}{} at {}", words.empty() ? "First " : "; ", what, with_interval(*angle.slope, angle.interval));
  }
  out.lines.push_back(words.empty() ? "Nothing gives way as this ground is tilted." : words + ".");
  if (cell.worst_lift_off)
    out.lines.push_back(fmt::format("At the worst heading ({}) a wheel lifts at {}.", heading_words(cell.worst_heading),
                                    degrees_and_percent(cell.worst_lift_off)));
  out.lines.push_back(fmt::format(
      "Front axle {}, front tyres {}; rear axle {}.",
      cell.front_axle_used > 0 ? percent(cell.front_axle_used) + " of the maker's figure" : "limit NOT KNOWN",
      cell.front_used > 0 ? percent(cell.front_used) + " of what they may carry" : "limit NOT KNOWN",
      cell.rear_axle > 0 ? fmt::format("{}, {} of the mass", mass(cell.rear_axle), percent(cell.rear_axle / cell.mass))
                         : std::string("carries nothing")));
  out.lines.push_back(counterweight_words(scene, cell, units));
  return out;
}

}  // namespace sidehill::text
