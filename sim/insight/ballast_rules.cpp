#include "sim/insight/ballast_rules.h"

#include <fmt/format.h>

#include <algorithm>

#include "sim/rest/load_check.h"
#include "sim/rest/mass_sums.h"

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

// What the loader carries, in the bucket and on a rope, and where.
struct Payload {
  double mass = 0, ahead = 0;  // ahead of the front axle
};
Payload payload_of(const Model& model) {
  Payload all;
  double moment = 0;
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::payload) {
      all.mass += line.props.mass;
      moment += line.props.mass * (line.props.com.x - model.wheelbase);
    }
  if (all.mass > 0) all.ahead = moment / all.mass;
  return all;
}

// "1 800 kg each (128A8, at 160 kPa; 1.70 times by the law: drive tyre, low torque, up to 10 km/h)"
std::string tyre_asked(const TyreCheck& t, double pressure) {
  std::string how = fmt::format("{}{}{}, at {:.0f} kPa", t.service->load_index, t.service->speed_symbol,
                                t.rating == Rating::typical ? ", typical of the size" : "", pressure / 1e3);
  if (t.multiple.factor > 1)
    how += fmt::format("; {:.2f} times by {}: {}, up to {:.0f} km/h", t.multiple.factor, t.multiple.short_source,
                       t.multiple.use, t.multiple.top_speed * 3.6);
  if (t.tyres > 1)
    how += t.by_one ? fmt::format("; a pair until its fuller tyre carries {}", kg(t.single))
                    : fmt::format("; a pair, {} x {:.2f} x {}", t.tyres, side_by_side(t.tyres), kg(t.single));
  return fmt::format("at most {} ({})", kg(t.margin.capacity), how);
}

// Tyres of one axle against their rating: the fuller wheel counts, for both have the same tyres.
RuleAnswer tyre_rule(const LoadCheck& check, const Model& model, bool front) {
  const std::size_t left = front ? 0 : 2, right = left + 1;
  const std::size_t i = check.tyres[left].margin.load >= check.tyres[right].margin.load ? left : right;
  const TyreCheck& t = check.tyres[i];
  const char* name = front ? "front" : "rear";
  RuleAnswer a;
  a.there = kg(t.margin.load) + (i == left ? " on the left" : " on the right");
  if (!t.service) {
    a.rule = fmt::format("{} tyres carry at most their rating", name);
    a.asked = fmt::format("not known: read the sidewall, vehicle.{}.tyre.service", name);
    a.state = RuleState::not_known, a.kind = RuleKind::maker, a.source = "no mark given, and none typical of the size";
    return a;
  }
  const bool stated = t.rating == Rating::stated;
  a.rule = stated ? fmt::format("{} tyres carry at most their rating", name)
                  : fmt::format(
                        "{} tyres carry at most what is typical of their size: read the sidewall, "
                        "vehicle.{}.tyre.service",
                        name, name);
  a.asked = t.margin.capacity > 0 ? tyre_asked(t, model.wheels[i].tyre.pressure)
                                  : fmt::format("nothing at this speed: {}{} is too slow a mark", t.service->load_index,
                                                t.service->speed_symbol);
  a.state = met_if(t.margin.load <= t.margin.capacity);
  a.kind = stated ? RuleKind::maker : RuleKind::practice;
  a.source = fmt::format("{}; the pressure's part by the press's rule of thumb{}{}",
                         stated ? "the service mark given" : "our list of sizes", t.multiple.factor > 1 ? "; " : "",
                         t.multiple.source);
  return a;
}

RuleAnswer axle_rule(const char* axle, double capacity, double load) {
  if (capacity > 0)
    return {fmt::format("{} axle carries at most what its maker allows", axle),
            "at most " + kg(capacity),
            kg(load),
            met_if(load <= capacity),
            RuleKind::maker,
            "the maker's plate"};
  return {fmt::format("{} axle carries at most what its maker allows", axle),
          fmt::format("not known: read the plate, vehicle.{}.capacity_kg", axle),
          kg(load),
          RuleState::not_known,
          RuleKind::maker,
          "no figure given"};
}

// Highest hitch for the drawbar's load, where there is one.
std::optional<RuleAnswer> coupling_rule(const Scene& scene, const Model& model, const AxleShare& now, double unladen) {
  const AxleShare bar = drawbar_share(model);
  const double load = bar.front + bar.rear;
  if (!(load > 0)) return std::nullopt;
  const Hitch& hitch = scene.vehicle.hitch;
  const double highest =
      coupling_height(now.front - bar.front, unladen, total_mass(model), model.wheelbase, load, -hitch.x);
  return RuleAnswer{"hitch at most as high as leaves the steering axle enough",
                    fmt::format("at most {:.2f} m with {} of the drawbar on it", std::max(0.0, highest), kg(load)),
                    fmt::format("{:.2f} m", hitch.z),
                    met_if(hitch.z <= highest),
                    RuleKind::law,
                    "Regulation (EU) 2018/829 Annex II (4)(a)"};
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
  const double bare_mass = bare.front + bare.rear, mass = now.front + now.rear;  // on the axles
  // What is bolted on already is part of the axle loads, so the formulas' implement is nothing and their answer is what
  // must come on top.
  const Levers levers{v.front_mount.x - v.wheelbase, v.wheelbase, -v.rear_mount.x, 0};
  std::vector<RuleAnswer> answers;
  if (now.rear <= 0 || now.front <= 0)
    answers.push_back({"stands on both axles on level ground", "more than 0 kg on each",
                       kg(now.rear <= 0 ? now.rear : now.front) + (now.rear <= 0 ? " behind" : " in front"),
                       RuleState::not_met, RuleKind::practice, "it tips over the other axle where it stands"});
  answers.push_back(axle_rule("front", v.front.capacity, now.front));
  answers.push_back(axle_rule("rear", v.rear.capacity, now.rear));
  const LoadCheck check = check_loads(scene, model, level_loads(model));
  answers.push_back(tyre_rule(check, model, true));
  answers.push_back(tyre_rule(check, model, false));
  const bool front_steers = !v.front_axle.casters;
  if (auto hitch = coupling_rule(scene, model, now, bare_mass); hitch && front_steers)
    answers.push_back(*std::move(hitch));
  if (front_steers)
    answers.push_back({"steering axle carries at least 20 % of the unladen mass, whatever the load",
                       "at least " + kg(0.2 * bare_mass), kg(now.front), met_if(now.front >= 0.2 * bare_mass),
                       RuleKind::law, "Regulation (EU) 2015/208 Annex XXII 2.2"});
  if (front_steers && answers.back().state == RuleState::not_met && v.front_mount.max_mass > 0 &&
      levers.a + levers.b > 0)
    answers.back().lacking = front_ballast(0, now.front, bare_mass, levers);
  const double height = centre_of_gravity(model).z, track = 0.5 * (v.front.track + v.rear.track);
  const bool narrow = std::min(v.front.track, v.rear.track) < 1.15;
  answers.push_back({"centre of gravity at most 0.90 of the mean track high, or limited to 30 km/h",
                     fmt::format("at most {:.2f} m", 0.90 * track), fmt::format("{:.2f} m", height),
                     met_if(!limited_to_30_kmh(height, track)), narrow ? RuleKind::law : RuleKind::practice,
                     narrow ? "Regulation (EU) 167/2013 Art. 4, category T2"
                            : "asked of tracks below 1.15 m by Regulation (EU) 167/2013 Art. 4, here a guide"});
  if (scene.ballast.front_weights > 0) {
    answers.push_back({"rear axle carries at least 45 % of the unladen mass with weight in front",
                       "at least " + kg(0.45 * bare_mass), kg(now.rear), met_if(now.rear >= 0.45 * bare_mass),
                       RuleKind::standard, "EN ISO 4254-10 Annex B"});
    if (answers.back().state == RuleState::not_met && v.rear_mount.max_mass > 0 && levers.b + levers.c > 0)
      answers.back().lacking = rear_ballast(0, now.rear, bare_mass, levers);
    answers.back().in_front = false;
  }
  if (v.loader.fitted) {
    const Payload load = payload_of(model);
    answers.push_back({"load in the bucket and on its rope at most what the loader is rated for",
                       fmt::format("at most {:.0f} kg", v.loader.rated_payload), kg(load.mass),
                       met_if(load.mass <= v.loader.rated_payload), RuleKind::maker, "the maker's plate"});
    answers.push_back({"rear axle carries at least 20 % of the gross mass with the loader as it is",
                       "at least " + kg(0.2 * mass), kg(now.rear), met_if(now.rear >= 0.2 * mass), RuleKind::standard,
                       "EN 12525 + A2"});
    const double on_front = load.mass * (1 + load.ahead / v.wheelbase);
    if (answers.back().state == RuleState::not_met && v.rear_mount.max_mass > 0 && 5 * levers.c + 4 * v.wheelbase > 0)
      answers.back().lacking = loader_counterweight(now.rear + on_front - load.mass, now.front - on_front, load.mass,
                                                    load.ahead, levers.c, v.wheelbase);
    answers.back().in_front = false;
    if (const auto tips = loader_tipping(scene, model))
      answers.push_back({"load in the bucket at most half of what tips the machine forward, boom reaching farthest",
                         fmt::format("at most {:.0f} kg (it tips at {:.0f} kg)", 0.5 * tips->load, tips->load),
                         kg(load.mass), met_if(load.mass <= 0.5 * tips->load), RuleKind::standard,
                         "ISO 14397-1 (earth-moving machines: a guide here)"});
  }
  const double own = total_mass(model);  // what hangs on the hitch is the trailer's
  const double power_hp = v.engine_power / kHorsepower;
  answers.push_back({"at least 49 kg a horsepower for heavy work", "at least " + kg(49 * power_hp),
                     fmt::format("{:.0f} kg ({:.0f} kg a horsepower)", own, own / power_hp),
                     met_if(own >= 49 * power_hp), RuleKind::practice, "common practice, no source"});
  const double front = mass > 0 ? now.front / mass : 0;
  answers.push_back({"front axle near 40 % as a starting target", "35 to 45 %", share(front),
                     met_if(front >= 0.35 && front <= 0.45), RuleKind::practice,
                     "common practice, no source; the width of the target is our estimate"});
  return answers;
}

}  // namespace sidehill
