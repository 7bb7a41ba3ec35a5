#include "vehicles/loader_tool.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace sidehill {
namespace {

constexpr auto index(LoaderTool tool) { return static_cast<std::size_t>(tool); }

bool is_round(const Bale& bale) { return bale.diameter > 0; }
double whole(double count) { return std::max(1.0, std::round(count)); }

// One bale as it lies: its extent along x, y, z [m].
Vec3 extent_of(const Bale& bale, LoaderTool tool) {
  if (!is_round(bale)) return {bale.width, bale.length, bale.height};
  if (tool == LoaderTool::bale_spike) return {bale.length, bale.diameter, bale.diameter};
  return {bale.diameter, bale.length, bale.diameter};
}

double bale_volume(const Bale& bale) {
  if (!has_bale(bale)) return 0;
  if (is_round(bale)) return std::numbers::pi / 4 * bale.diameter * bale.diameter * bale.length;
  return bale.length * bale.width * bale.height;
}

// About its centre; of a cylinder along x on a spike, along y else.
MassProperties one_bale(const Bale& bale, LoaderTool tool, double mass, Vec3 centre) {
  if (!is_round(bale)) return solid_box(mass, centre, extent_of(bale, tool));
  const double r = bale.diameter / 2, axial = mass * r * r / 2,
               across = mass * (3 * r * r + bale.length * bale.length) / 12;
  const bool along = tool == LoaderTool::bale_spike;
  return {mass, centre, Mat3(along ? axial : across, 0, 0, 0, along ? across : axial, 0, 0, 0, across)};
}

}  // namespace

const ToolMeasures& tool_measures(LoaderTool tool) {
  static const std::array kMeasures{
      ToolMeasures{.of_bucket_mass = 1,
                   .centre = {0.3, 0, 0.05},
                   .size = {0.7, 1, 0.6},
                   .back = 0.1,
                   .tip = 0.75,
                   .under = -0.12,
                   .line = -0.12,
                   .load = {0.4, 0, 0.15},
                   .load_off = 0.15},
      ToolMeasures{.of_bucket_mass = 0.8,  // carriage and two tines of 1.15 m; a pallet of 1.2 m against them
                   .centre = {0.35, 0, 0.1},
                   .size = {0.9, 0.7, 0.6},
                   .back = 0.15,
                   .tip = 1.3,
                   .under = -0.12,
                   .line = -0.1,
                   .load = {0.75, 0, 0.35},
                   .load_off = 0.2},
      ToolMeasures{.of_bucket_mass = 0.5,  // frame and one long spike with two short ones; a bale of 1.2 m
                   .centre = {0.3, 0, 0.1},
                   .size = {0.8, 0.6, 0.5},
                   .back = 0.15,
                   .tip = 1.3,
                   .under = -0.12,
                   .line = 0.1,
                   .load = {0.75, 0, 0.1},
                   .load_off = 0.2},
      ToolMeasures{.of_bucket_mass = 1.6,  // tined bucket with its upper jaws and rams
                   .centre = {0.35, 0, 0.15},
                   .size = {0.8, 1, 0.8},
                   .back = 0.1,
                   .tip = 0.85,
                   .under = -0.12,
                   .line = -0.1,
                   .load = {0.5, 0, 0.25},
                   .load_off = 0.2},
  };
  static_assert(kMeasures.size() == kLoaderTools.size());
  return kMeasures[index(tool)];
}

bool has_bale(const Bale& bale) { return is_round(bale) || (bale.width > 0 && bale.height > 0); }

double bale_mass(const Bale& bale) { return whole(bale.count) * bale.density * bale_volume(bale); }

double loader_load(const BallastPlan& plan) { return has_bale(plan.bale) ? bale_mass(plan.bale) : plan.loader_payload; }

BallastPlan with_load(BallastPlan plan, double mass) {
  if (!has_bale(plan.bale)) {
    plan.loader_payload = mass;
    return plan;
  }
  plan.bale.density = 1;
  plan.bale.density = mass / bale_mass(plan.bale);
  return plan;
}

double tool_mass(const Loader& loader, const BallastPlan& plan) {
  if (plan.loader_tool_mass > 0) return plan.loader_tool_mass;
  return tool_measures(plan.loader_tool).of_bucket_mass * loader.bucket_mass;
}

MassProperties tool_props(const Loader& loader, const BallastPlan& plan) {
  const ToolMeasures& tool = tool_measures(plan.loader_tool);
  return solid_box(tool_mass(loader, plan), tool.centre, {tool.size.x, tool.size.y * loader.bucket_width, tool.size.z});
}

Vec3 bale_size(const BallastPlan& plan) { return extent_of(plan.bale, plan.loader_tool); }

LoadBox bale_box(const BallastPlan& plan) {
  const Bale& bale = plan.bale;
  if (!has_bale(bale)) return {};
  const ToolMeasures& tool = tool_measures(plan.loader_tool);
  const double count = whole(bale.count);
  Vec3 one = extent_of(bale, plan.loader_tool), all = one;
  (is_round(bale) ? all.y : all.z) *= count;
  const double back = plan.loader_load_ahead > 0 ? plan.loader_load_ahead - one.x / 2 : tool.back;
  const double floor = plan.loader_tool == LoaderTool::bale_spike ? tool.line - one.z / 2 : tool.line;
  return {{back, -all.y / 2, floor}, {back + all.x, all.y / 2, floor + all.z}};
}

Vec3 load_from_pin(const BallastPlan& plan) {
  if (has_bale(plan.bale)) {
    const LoadBox box = bale_box(plan);
    return (box.low + box.high) / 2.0;
  }
  Vec3 place = tool_measures(plan.loader_tool).load;
  if (plan.loader_load_ahead > 0) place.x = plan.loader_load_ahead;
  return place;
}

double load_off(const BallastPlan& plan) {
  return has_bale(plan.bale) ? kBaleOff : tool_measures(plan.loader_tool).load_off;
}

MassProperties load_props(const Loader& loader, const BallastPlan& plan) {
  const Vec3 centre = load_from_pin(plan);
  if (!has_bale(plan.bale)) return solid_box(plan.loader_payload, centre, {0.6, 0.9 * loader.bucket_width, 0.4});
  const Bale& bale = plan.bale;
  const double mass = bale_mass(bale), count = whole(bale.count);
  MassProperties all;
  if (!(mass > 0)) return all;
  const Vec3 one = extent_of(bale, plan.loader_tool);
  const Vec3 step = is_round(bale) ? Vec3(0, one.y, 0) : Vec3(0, 0, one.z);
  for (int i = 0; i < static_cast<int>(count); ++i)
    all = combine(all, one_bale(bale, plan.loader_tool, mass / count, centre + (i - (count - 1) / 2) * step));
  return all;
}

double lowest_pin_height(const Loader& loader, const BallastPlan& plan) {
  return std::max(loader.min_pin_height, -bale_box(plan).low.z);
}

const LoaderToolWords& words_of(LoaderTool tool) { return kLoaderTools[index(tool)]; }

std::string load_words(const BallastPlan& plan) {
  const std::string where(words_of(plan.loader_tool).where);
  if (!has_bale(plan.bale)) return "load " + where;
  const int count = static_cast<int>(whole(plan.bale.count));
  return (count == 1 ? "bale " : std::to_string(count) + " bales ") + where;
}

}  // namespace sidehill
