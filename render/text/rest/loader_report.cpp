#include "render/text/rest/loader_report.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/text/rest/answer_json.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/columns.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/loader_tool.h"

namespace sidehill::text {
namespace {

constexpr std::size_t kLoaderCell = 10;  // least width of a column

std::string mass_words(double mass, Units units) { return shown(Quantity::mass, mass, units); }

template <class Word>
std::string grid(const std::vector<LoaderCell>& cells, const char* title, Units units, Word word) {
  std::vector<std::vector<std::string>> rows{{"bucket pin"}};
  for (const LoaderCell& cell : cells)
    if (cell.pin_height == cells.front().pin_height) rows.front().push_back(mass_words(cell.payload, units));
  double height = -1;
  for (const LoaderCell& cell : cells) {
    if (cell.pin_height != height) rows.push_back({shown(Quantity::length, height = cell.pin_height, units)});
    rows.back().push_back(word(cell));
  }
  std::vector<Column> columns(rows.front().size(), Column{kLoaderCell});
  columns.front().least = kLoaderCell + 2;  // its head has two spaces in front
  return fmt::format("{}\n", title) + lines_of_cells("", columns, rows) + "\n";
}

bool slides_first(const LoaderCell& c) { return c.slide && (!c.first_lift_off || *c.slide < *c.first_lift_off); }

// Without a place for weights none is the most.
bool counterweight_fits(const Vehicle& v, const LoaderCell& c) {
  return c.counterweight && *c.counterweight <= v.rear_mount.max_mass;
}

bool front_over(const Vehicle& v, const LoaderCell& c) {
  return v.front.capacity > 0 && c.counterweight_front > v.front.capacity;
}

// Some load needs one, or cannot be held by any.
bool any_counterweight(const std::vector<LoaderCell>& cells) {
  return !std::ranges::all_of(cells, [](const LoaderCell& c) { return c.counterweight == 0.0; });
}

// What no weight on the rear mount can make good, before the tables say how much would.
std::string counterweight_words(const Scene& scene, const std::vector<LoaderCell>& cells, Units units) {
  const Vehicle& v = scene.vehicle;
  const auto heavy = std::ranges::count_if(cells, [&](const LoaderCell& c) { return !counterweight_fits(v, c); });
  const auto front =
      std::ranges::count_if(cells, [&](const LoaderCell& c) { return counterweight_fits(v, c) && front_over(v, c); });
  std::string text;
  if (heavy > 0)
    text += paragraph(
        "! ", v.rear_mount.max_mass > 0
                  ? fmt::format("No counterweight within the rear mount's {} is enough for {} of the {} loads.",
                                mass_words(v.rear_mount.max_mass, units), heavy, cells.size())
                  : fmt::format("This machine has no rear mount for a counterweight, and {} of the {} loads need one.",
                                heavy, cells.size()));
  if (front > 0)
    text += paragraph(
        "! ", fmt::format("{} more than the maker's {} with {} of the {} loads.",
                          any_counterweight(cells) ? "With the counterweight behind, the front axle still carries"
                                                   : "The front axle carries",
                          mass_words(v.front.capacity, units), front, cells.size()));
  return text;
}

// The first of them shrinks to a line where it would hold nothing.
std::string counterweight_tables(const Vehicle& v, const std::vector<LoaderCell>& cells, Units units) {
  std::string text;
  if (!any_counterweight(cells))
    text +=
        "None of these loads needs a counterweight for the rear axle: without any it keeps 20 % of the mass. Weight "
        "behind still takes load off the front axle.\n\n";
  else
    text += grid(cells,
                 "Counterweight on the rear mount, in all, that keeps 20 % of the mass on the rear axle; ! = more "
                 "than it takes",
                 units, [&](const LoaderCell& c) {
                   if (!c.counterweight) return std::string("no use");
                   return (counterweight_fits(v, c) ? "" : "!") +
                          (*c.counterweight > 0 ? mass_words(*c.counterweight, units) : std::string("none"));
                 });
  return text + grid(cells, "On the front axle with that counterweight; ! = over the maker's figure", units,
                     [&](const LoaderCell& c) {
                       return c.counterweight ? (front_over(v, c) ? "!" : "") + mass_words(c.counterweight_front, units)
                                              : std::string("-");
                     });
}

std::string mark(const LoaderCell& c) { return load_allowed(c) ? "" : "! "; }

}  // namespace

std::string what_loader_tells(const BallastPlan& plan) {
  const std::string where =
      plan.loader_tool == LoaderTool::bucket && !has_bale(plan.bale) && plan.loader_load_ahead == 0
          ? "bucket's load in its middle"
          : fmt::format("{} with its centre {} ahead of the bucket pin", load_words(plan),
                        metres(load_from_pin(plan).x));
  return fmt::format(
      "Even slope, at rest, {}. Raised loads sway and drop: a machine under way lifts a wheel far sooner.", where);
}

bool load_allowed(const LoaderCell& c) {
  return c.front_used <= 1 && c.front_axle_used <= 1 && c.rear_axle >= 0.2 * c.mass;
}

nlohmann::ordered_json loader_json(const Scene& scene, const std::vector<LoaderCell>& cells) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const LoaderCell& cell : cells)
    list.push_back(
        {{"loader_pin_height_m", number_or_null(cell.pin_height)},
         {"loader_payload_kg", number_or_null(cell.payload)},
         {"first_lift_off_deg", number_or_null(cell.first_lift_off, kDegree)},
         {"slide_deg", number_or_null(cell.slide, kDegree)},
         {"tip_over_deg", number_or_null(cell.tip_over, kDegree)},
         {"worst_lift_off_deg", number_or_null(cell.worst_lift_off, kDegree)},
         {"worst_heading_deg", cell.worst_lift_off ? number_or_null(cell.worst_heading, kDegree) : nullptr},
         {"front_tyre_used", cell.front_used > 0 ? number_or_null(cell.front_used) : nullptr},
         {"front_axle_used", cell.front_axle_used > 0 ? number_or_null(cell.front_axle_used) : nullptr},
         {"rear_axle_kg", number_or_null(cell.rear_axle)},
         {"counterweight_kg", number_or_null(cell.counterweight)},
         {"counterweight_fits", counterweight_fits(scene.vehicle, cell)},
         {"counterweight_front_axle_kg", cell.counterweight ? number_or_null(cell.counterweight_front) : nullptr},
         {"allowed", load_allowed(cell)}});
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"title", scene.title},
          {"heading_deg", number_or_null(scene.start.heading, kDegree)},
          {"cells", list},
          {"cautions", {what_loader_tells(scene.ballast), kCautionLine}}};
}

std::string loader_table(const Scene& scene, const std::vector<LoaderCell>& cells, Units units) {
  // What is wrong with the set-up as it stands, before the loads that might be tried.
  std::string text;
  for (const std::string& words : set_up_warnings(scene)) text += paragraph("", read_in(words, units));
  if (const bool front = std::ranges::any_of(cells, [](const LoaderCell& c) { return !(c.front_axle_used > 0); }),
      tyres = std::ranges::any_of(cells, [](const LoaderCell& c) { return !(c.front_used > 0); });
      front || tyres)
    text +=
        paragraph("! ", fmt::format("What the front {} may carry is NOT KNOWN: no load below is checked against it.",
                                    front && tyres ? "axle and the front tyres"
                                    : front        ? "axle"
                                                   : "tyres"));
  if (const std::string words = without_implement(scene); !words.empty())
    text += paragraph("! ", read_in(words, units));
  if (std::any_of(cells.begin(), cells.end(), [](const LoaderCell& c) { return !load_allowed(c); }))
    text +=
        paragraph("! ",
                  "Marked loads are too much for this machine as it stands, however late a wheel lifts: the front axle "
                  "or a front tyre over what it may carry, or less than 20 % of the mass on the rear axle.");
  text += counterweight_words(scene, cells, units);
  const auto slide = std::ranges::count_if(cells, slides_first);
  if (slide > 0)
    text += paragraph("! ", fmt::format("On this ground the tyres slide before a wheel lifts with {} of the {} loads: "
                                        "the second table says where.",
                                        slide, cells.size()));
  if (!text.empty()) text += "\n";
  if (!scene.title.empty()) text += read_in(scene.title, units) + "\n";
  text += fmt::format("{}, {}\n\n", read_in(scene.vehicle.name, units), heading_words(scene.start.heading));
  text += grid(cells, "First wheel lifts at this heading; ! = not allowed: too much in front, or too little behind",
               units, [](const LoaderCell& c) { return mark(c) + degrees_and_percent(c.first_lift_off); });
  if (slide > 0)
    text += grid(cells, "The tyres slide at this heading", units, [](const LoaderCell& c) {
      return mark(c) + (!c.slide && c.first_lift_off ? "lifts first" : degrees_and_percent(c.slide));
    });
  text += grid(cells, "First wheel lifts at the worst heading", units,
               [](const LoaderCell& c) { return mark(c) + degrees_and_percent(c.worst_lift_off); });
  text += grid(cells, "Front tyres, level ground: share of what they may carry", units,
               [](const LoaderCell& c) { return c.front_used > 0 ? percent(c.front_used) : std::string("-"); });
  text += grid(cells, "Front axle, level ground: share of the maker's figure", units, [](const LoaderCell& c) {
    return c.front_axle_used > 0 ? percent(c.front_axle_used) : std::string("-");
  });
  text += grid(cells, "On the rear axle, level ground", units, [units](const LoaderCell& c) {
    return c.rear_axle > 0 ? mass_words(c.rear_axle, units) : std::string("TIPS");
  });
  return text + counterweight_tables(scene.vehicle, cells, units) +
         paragraph("  ! ", read_in(what_loader_tells(scene.ballast), units)) + paragraph("  ! ", kCautionLine);
}

}  // namespace sidehill::text
