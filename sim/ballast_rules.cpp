#include "sim/ballast_rules.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "sim/mass_sums.h"

namespace sidehill {
namespace {

constexpr double kHorsepower = 735.49875;  // metric [W]

std::string kg(double mass) { return fmt::format("{:.0f} kg", mass); }
std::string share(double part) { return fmt::format("{:.0f} %", 100 * part); }

// The machine as the maker delivers it: no ballast, no load, nobody on it, loader off.
AxleShare unladen(const Model& model) {
  AxleShare all;
  for (const LedgerLine& line : model.ledger) {
    if (line.item != LedgerItem::machine && line.item != LedgerItem::tank) continue;
    const AxleShare one = axle_share(line, model.wheelbase);
    all.front += one.front;
    all.rear += one.rear;
  }
  return all;
}

// The bucket's load and what it does.
struct Payload {
  double mass = 0, ahead = 0;  // ahead of the front axle
};
Payload payload_of(const Model& model) {
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::payload) return {line.props.mass, line.props.com.x - model.wheelbase};
  return {};
}

}  // namespace

double front_ballast(double rear_implement, double front_axle, double unladen, const Levers& l) {
  return std::max(0.0, (rear_implement * (l.c + l.d) - front_axle * l.b + 0.2 * unladen * l.b) / (l.a + l.b));
}

double rear_ballast(double front_implement, double rear_axle, double unladen, const Levers& l) {
  return std::max(0.0, (front_implement * l.a - rear_axle * l.b + 0.45 * unladen * l.b) / (l.b + l.c + l.d));
}

double loader_counterweight(double rear_axle, double front_axle, double bucket_load, double ahead, double behind,
                            double wheelbase) {
  const double all = rear_axle + front_axle;
  return std::max(0.0, (5 * bucket_load * ahead + wheelbase * (all + bucket_load - 5 * rear_axle)) /
                           (5 * (behind + wheelbase) - wheelbase));
}

double coupling_height(double ballasted_front, double unladen, double ballasted, double wheelbase, double vertical_load,
                       double behind) {
  return ((ballasted_front - 0.2 * unladen) * wheelbase - vertical_load * behind) /
         (0.6 * (ballasted - 0.2 * unladen + vertical_load));
}

bool limited_to_30_kmh(double height, double mean_track) { return height > 0.90 * mean_track; }

std::optional<double> tipping_load(double rear_axle, double wheelbase, double ahead) {
  if (!(ahead > 0)) return std::nullopt;
  return rear_axle * wheelbase / ahead;
}

std::optional<LoaderTipping> loader_tipping(const Scene& scene, const Model& model) {
  const Loader& loader = scene.vehicle.loader;
  if (!loader.fitted) return std::nullopt;
  Scene farthest = scene;
  farthest.ballast.loader_pin_height = std::clamp(loader.pivot_z, loader.min_pin_height, loader.max_pin_height);
  farthest.ballast.loader_payload = std::max(1.0, scene.ballast.loader_payload);  // so that it has a place
  const Model there = build(farthest, &model);
  const Payload load = payload_of(there);
  const double rear_empty = axle_share(there).rear + load.mass * load.ahead / there.wheelbase;
  const auto tips = tipping_load(rear_empty, there.wheelbase, load.ahead);
  if (!tips) return std::nullopt;
  return LoaderTipping{load.ahead, std::max(0.0, *tips)};
}

std::vector<RuleAnswer> ballast_rules(const Scene& scene, const Model& model) {
  const Vehicle& v = scene.vehicle;
  const AxleShare bare = unladen(model), now = axle_share(model);
  const double bare_mass = bare.front + bare.rear, mass = now.front + now.rear;
  // What is bolted on already is part of the axle loads, so the formulas' implement is nothing and their answer is what
  // must come on top.
  const Levers levers{v.front_mount.x - v.wheelbase, v.wheelbase, -v.rear_mount.x, 0};
  std::vector<RuleAnswer> answers;
  if (now.rear <= 0 || now.front <= 0)
    answers.push_back({"stands on both axles on level ground", "more than 0 kg on each",
                       kg(now.rear <= 0 ? now.rear : now.front) + (now.rear <= 0 ? " behind" : " in front"), false,
                       RuleKind::practice, "it tips over the other axle where it stands"});
  for (const auto& [axle, capacity, load] :
       {std::tuple{"front", v.front.capacity, now.front}, {"rear", v.rear.capacity, now.rear}})
    if (capacity > 0)
      answers.push_back({fmt::format("{} axle carries at most what its maker allows", axle), "at most " + kg(capacity),
                         kg(load), load <= capacity, RuleKind::maker, "the maker's plate"});
  answers.push_back({"steering axle carries at least 20 % of the unladen mass, whatever the load",
                     "at least " + kg(0.2 * bare_mass), kg(now.front), now.front >= 0.2 * bare_mass, RuleKind::law,
                     "Regulation (EU) 2015/208 Annex XXII 2.2"});
  if (!answers.back().met && v.front_mount.max_mass > 0 && levers.a + levers.b > 0)
    answers.back().lacking = front_ballast(0, now.front, bare_mass, levers);
  const double height = centre_of_gravity(model).z, track = 0.5 * (v.front.track + v.rear.track);
  const bool narrow = std::min(v.front.track, v.rear.track) < 1.15;
  answers.push_back({"centre of gravity at most 0.90 of the mean track high, or limited to 30 km/h",
                     fmt::format("at most {:.2f} m", 0.90 * track), fmt::format("{:.2f} m", height),
                     !limited_to_30_kmh(height, track), narrow ? RuleKind::law : RuleKind::practice,
                     narrow ? "Regulation (EU) 167/2013 Art. 4, category T2"
                            : "asked of tracks below 1.15 m by Regulation (EU) 167/2013 Art. 4, here a guide"});
  if (scene.ballast.front_weights > 0) {
    answers.push_back({"rear axle carries at least 45 % of the unladen mass with weight in front",
                       "at least " + kg(0.45 * bare_mass), kg(now.rear), now.rear >= 0.45 * bare_mass,
                       RuleKind::standard, "EN ISO 4254-10 Annex B"});
    if (!answers.back().met && v.rear_mount.max_mass > 0 && levers.b + levers.c > 0)
      answers.back().lacking = rear_ballast(0, now.rear, bare_mass, levers);
    answers.back().in_front = false;
  }
  if (v.loader.fitted) {
    answers.push_back({"load in the bucket at most what the loader is rated for",
                       fmt::format("at most {:.0f} kg", v.loader.rated_payload), kg(scene.ballast.loader_payload),
                       scene.ballast.loader_payload <= v.loader.rated_payload, RuleKind::maker, "the maker's plate"});
    answers.push_back({"rear axle carries at least 20 % of the gross mass with the loader as it is",
                       "at least " + kg(0.2 * mass), kg(now.rear), now.rear >= 0.2 * mass, RuleKind::standard,
                       "EN 12525 + A2"});
    const Payload load = payload_of(model);
    const double on_front = load.mass * (1 + load.ahead / v.wheelbase);
    if (!answers.back().met && v.rear_mount.max_mass > 0 && 5 * levers.c + 4 * v.wheelbase > 0)
      answers.back().lacking = loader_counterweight(now.rear + on_front - load.mass, now.front - on_front, load.mass,
                                                    load.ahead, levers.c, v.wheelbase);
    answers.back().in_front = false;
    if (const auto tips = loader_tipping(scene, model))
      answers.push_back({"load in the bucket at most half of what tips the machine forward, boom reaching farthest",
                         fmt::format("at most {:.0f} kg (it tips at {:.0f} kg)", 0.5 * tips->load, tips->load),
                         kg(load.mass), load.mass <= 0.5 * tips->load, RuleKind::standard,
                         "ISO 14397-1 (earth-moving machines: a guide here)"});
  }
  const double power_hp = v.engine_power / kHorsepower;
  answers.push_back({"at least 49 kg a horsepower for heavy work", "at least " + kg(49 * power_hp),
                     fmt::format("{:.0f} kg ({:.0f} kg a horsepower)", mass, mass / power_hp), mass >= 49 * power_hp,
                     RuleKind::practice, "common practice, no source"});
  const double front = mass > 0 ? now.front / mass : 0;
  answers.push_back({"front axle near 40 % as a starting target", "35 to 45 %", share(front),
                     front >= 0.35 && front <= 0.45, RuleKind::practice,
                     "common practice, no source; the width of the target is our estimate"});
  return answers;
}

}  // namespace sidehill
