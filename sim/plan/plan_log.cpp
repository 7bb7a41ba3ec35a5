#include "sim/plan/plan_log.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "sim/base/errors.h"
#include "sim/scene/machine_mark.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "sim/scene/toml_file.h"
#include "vehicles/recipe.h"
#include "vehicles/tyre_cavity.h"

namespace sidehill {
namespace {

constexpr double kLitre = 1e-3;
// A flow meter and a level are both off by so much: so much more may come out than was in.
constexpr double kMeterShare = 0.05, kMeterLeast = 5 * kLitre;
constexpr double kMassShare = 0.05;  // between litres and kilograms of one entry

bool is_tyre(LogPlace place) { return place <= LogPlace::rear_right; }
bool is_axle(LogPlace place) { return place == LogPlace::front_axle || place == LogPlace::rear_axle; }
bool is_weights(LogPlace place) { return place >= LogPlace::front_weights && place <= LogPlace::rear_wheel_weights; }
std::size_t index_of(LogPlace place) { return static_cast<std::size_t>(place); }
std::size_t weights_at(LogPlace place) { return index_of(place) - index_of(LogPlace::front_weights); }

// The wheels an entry is about.
std::vector<std::size_t> wheels_of(LogPlace place) {
  if (is_tyre(place)) return {index_of(place)};
  if (place == LogPlace::front_axle) return {kFrontLeft, kFrontRight};
  if (place == LogPlace::rear_axle) return {kRearLeft, kRearRight};
  return {};
}

std::string name_of(LogPlace place) { return std::string(kLogPlaces[index_of(place)].name); }

const Axle& axle_at(const Scene& scene, std::size_t axle) {
  return axle == 0 ? scene.vehicle.front : scene.vehicle.rear;
}

bool same_tyre(const Tyre& a, const Tyre& b) {
  return a.size == b.size && a.free_radius == b.free_radius && a.section_width == b.section_width &&
         a.cavity_volume == b.cavity_volume;
}
bool same_wheels(const Axle& a, const Axle& b) {
  return same_tyre(a.tyre, b.tyre) && a.tyre.service == b.tyre.service && a.dual_spacing == b.dual_spacing &&
         a.wheel_mass == b.wheel_mass && a.rim_capacity == b.rim_capacity;
}

std::string litres(double volume) { return fmt::format("{:.4g} L", volume / kLitre); }

// One entry after the other.
struct Follower {
  const Scene& scene;
  std::string file;
  LoggedState state;
  const Scene& before;  // the machine before the plan

  double room(std::size_t wheel) const {
    return room_of_tyre(state.planned_wheels[is_front(static_cast<int>(wheel)) ? 0 : 1] ? scene : before, wheel);
  }

  [[noreturn]] void refuse(const LogEntry& entry, std::string_view key, const std::string& message) const {
    refuse_at(entry.line > 0 ? TomlSource{file}.at(entry.line) : file, "plan.log[]." + std::string(key), message);
  }

  // A number stands only where something is done with it.
  void only(const LogEntry& entry, bool volume, bool mass, bool pressure, bool track) const {
    const std::string what(kLogWhats[static_cast<std::size_t>(entry.what)].key);
    const auto refuse_idle = [&](std::string_view key) {
      refuse(entry, key,
             fmt::format("goes with no \"{}\" at the {}, allowed to be left out", what, name_of(entry.place)));
    };
    if (entry.volume && !volume) refuse_idle("volume_l");
    if (entry.mass && !mass) refuse_idle("mass_kg");
    if (entry.pressure && !pressure) refuse_idle("pressure_kpa");
    if (entry.track && !track) refuse_idle("track_m");
    if (!entry.medium.empty() && !volume) refuse_idle("medium");
    if (entry.concentration && entry.medium.empty())
      refuse(entry, "concentration", "is of no medium, allowed beside medium = \"...\"");
  }
  void place_is(const LogEntry& entry, bool right, const char* allowed) const {
    if (right) return;
    refuse(entry, "place",
           fmt::format("\"{}\" is nothing that can be \"{}\", allowed {}", kLogPlaces[index_of(entry.place)].key,
                       kLogWhats[static_cast<std::size_t>(entry.what)].key, allowed));
  }

  TyreFill medium_of(const LogEntry& entry, const TyreState& in) const {
    TyreFill out;
    out.medium = in.medium;
    out.concentration = in.concentration;
    if (entry.medium.empty()) {
      if (!(in.volume > 0))
        refuse(entry, "medium", "is missing: the tyre is empty, allowed one of `sidehill list media`");
      return out;
    }
    const auto keys = medium_keys();
    const auto at = std::ranges::find(keys, std::string_view(entry.medium));
    out.concentration = entry.concentration.value_or(0);
    if (at != keys.end()) {
      out.medium = static_cast<Medium>(at - keys.begin());
      return out;
    }
    const auto named = mix_named(entry.medium);
    if (!named || !named->concentration)
      refuse(entry, "medium",
             "\"" + entry.medium.substr(0, 60) + "\" is not known, allowed one of `sidehill list media`");
    if (entry.concentration)
      refuse(entry, "concentration", "the medium's name says the strength already, allowed one of the two");
    out.medium = named->medium;
    out.concentration = *named->concentration;
    return out;
  }

  // Litres, or what the kilograms are in litres.
  std::optional<double> volume_of(const LogEntry& entry, const TyreFill& fill) const {
    const Mix mix{fill.medium, fill.concentration, &scene.ballast.own_medium};
    const double dense = density(mix, scene.settings.filling_temperature);
    if (entry.volume && entry.mass && *entry.volume > 0 &&
        std::abs(*entry.mass - *entry.volume * dense) > kMassShare * *entry.volume * dense + 2)
      refuse(entry, "mass_kg",
             fmt::format("{:.4g} is not the mass of {} of {}, allowed about {:.0f} kg, or one of the two", *entry.mass,
                         litres(*entry.volume), medium_name(mix), *entry.volume * dense));
    if (entry.volume) return entry.volume;
    if (entry.mass && dense > 0) return *entry.mass / dense;
    return std::nullopt;
  }

  void check_room(const LogEntry& entry, std::size_t wheel, double volume) const {
    const double room = this->room(wheel);
    if (volume <= room * (1 + 1e-9)) return;
    refuse(entry, "volume_l",
           fmt::format("makes it {} in a tyre that holds {}, allowed up to {} more", litres(volume), litres(room),
                       litres(std::max(0.0, room - state.tyres[wheel].volume))));
  }

  void fill(const LogEntry& entry) {
    place_is(entry, is_tyre(entry.place), "front_left, front_right, rear_left, rear_right");
    only(entry, true, true, true, false);
    TyreState& tyre = state.tyres[index_of(entry.place)];
    const TyreFill medium = medium_of(entry, tyre);
    if (tyre.volume > 0 && (medium.medium != tyre.medium || std::abs(strength(medium.medium, medium.concentration) -
                                                                     strength(tyre.medium, tyre.concentration)) > 1e-6))
      refuse(entry, "medium",
             fmt::format("the {} holds {} of {}: what the two give together is not known, allowed after \"drained\"",
                         name_of(entry.place), litres(tyre.volume),
                         medium_name({tyre.medium, tyre.concentration, &scene.ballast.own_medium})));
    const auto volume = volume_of(entry, medium);
    if (!volume) refuse(entry, "volume_l", "is missing, allowed litres as volume_l or kilograms as mass_kg");
    check_room(entry, index_of(entry.place), tyre.volume + *volume);
    tyre.medium = medium.medium;
    tyre.concentration = medium.concentration;
    tyre.volume += *volume;
    if (entry.pressure) tyre.pressure = *entry.pressure;
  }

  void drain(const LogEntry& entry) {
    place_is(entry, is_tyre(entry.place), "front_left, front_right, rear_left, rear_right");
    only(entry, true, true, true, false);
    TyreState& tyre = state.tyres[index_of(entry.place)];
    TyreFill in;
    in.medium = tyre.medium;
    in.concentration = tyre.concentration;
    if (!entry.medium.empty()) {
      const TyreFill said = medium_of(entry, tyre);
      if (said.medium != tyre.medium ||
          std::abs(strength(said.medium, said.concentration) - strength(tyre.medium, tyre.concentration)) > 1e-6)
        refuse(entry, "medium",
               fmt::format("is not what the {} holds, allowed {} or to be left out", name_of(entry.place),
                           medium_name({tyre.medium, tyre.concentration, &scene.ballast.own_medium})));
    }
    const auto volume = volume_of(entry, in);
    if (volume && *volume > tyre.volume + std::max(kMeterLeast, kMeterShare * tyre.volume))
      refuse(entry, entry.volume ? "volume_l" : "mass_kg",
             fmt::format("{} were drained where {} were in, allowed up to what is in", litres(*volume),
                         litres(tyre.volume)));
    tyre.volume = volume ? std::max(0.0, tyre.volume - *volume) : 0;
    if (entry.pressure) tyre.pressure = *entry.pressure;
  }

  // The wheels of the plan, or those before it. Liquid and pressure go with a tyre that comes off.
  void change_wheels(const LogEntry& entry) {
    only(entry, false, false, false, false);
    const std::size_t axle = entry.place == LogPlace::rear_axle ? 1 : 0;
    const bool planned = entry.what == LogWhat::fitted;
    const Axle &on = axle_at(planned ? scene : before, axle), &off = axle_at(planned ? before : scene, axle);
    if (same_wheels(on, off))
      refuse(
          entry, "place",
          fmt::format("\"{}\": the plan changes no wheels there, allowed an axle whose wheels it changes, or weights",
                      kLogPlaces[index_of(entry.place)].key));
    if (state.planned_wheels[axle] == planned)
      refuse(entry, "what",
             fmt::format("\"{}\": these wheels are {} already, allowed once",
                         kLogWhats[static_cast<std::size_t>(entry.what)].key, planned ? "on" : "off"));
    state.planned_wheels[axle] = planned;
    if (same_tyre(on.tyre, off.tyre)) return;
    for (const std::size_t wheel : wheels_of(entry.place)) {
      state.tyres[wheel].volume = 0;
      state.tyres[wheel].pressure = on.tyre.pressure;
    }
  }

  void weigh(const LogEntry& entry) {
    if (is_axle(entry.place)) return change_wheels(entry);
    place_is(entry, is_weights(entry.place),
             "front_weights, rear_weights, front_wheel_weights, rear_wheel_weights (of both wheels together), "
             "front_axle, rear_axle (the wheels of the plan)");
    only(entry, false, true, false, false);
    double& there = state.weights[weights_at(entry.place)];
    if (entry.what == LogWhat::fitted) {
      if (!entry.mass) refuse(entry, "mass_kg", "is missing, allowed the mass of what was put on");
      there += *entry.mass;
      return;
    }
    if (entry.mass && *entry.mass > there + kMassSlack)
      refuse(entry, "mass_kg",
             fmt::format("{:.4g} kg were taken off where {:.4g} kg were on, allowed up to what is on", *entry.mass,
                         there));
    there = entry.mass ? std::max(0.0, there - *entry.mass) : 0;
  }

  void set_pressure(const LogEntry& entry) {
    place_is(entry, is_tyre(entry.place) || is_axle(entry.place),
             "front_left, front_right, rear_left, rear_right, front_axle, rear_axle");
    only(entry, false, false, true, false);
    if (!entry.pressure) refuse(entry, "pressure_kpa", "is missing, allowed what the gauge shows");
    for (const std::size_t wheel : wheels_of(entry.place)) state.tyres[wheel].pressure = *entry.pressure;
  }

  void set_track(const LogEntry& entry) {
    place_is(entry, is_axle(entry.place), "front_axle, rear_axle");
    only(entry, false, false, false, true);
    if (!entry.track) refuse(entry, "track_m", "is missing, allowed from tyre middle to tyre middle");
    state.track[entry.place == LogPlace::rear_axle ? 1 : 0] = *entry.track;
  }

  // What was found counts, whatever was logged before.
  void found(const LogEntry& entry) {
    only(entry, is_tyre(entry.place), is_tyre(entry.place) || is_weights(entry.place),
         is_tyre(entry.place) || is_axle(entry.place), is_axle(entry.place));
    if (is_tyre(entry.place)) {
      TyreState& tyre = state.tyres[index_of(entry.place)];
      if (entry.volume || entry.mass || !entry.medium.empty()) {
        TyreFill medium;
        if (!entry.medium.empty() || tyre.volume > 0 || entry.volume.value_or(entry.mass.value_or(1)) > 0)
          medium = medium_of(entry, tyre);
        const double volume = volume_of(entry, medium).value_or(tyre.volume);
        const double room = this->room(index_of(entry.place));
        if (volume > room * (1 + 1e-9))
          refuse(
              entry, "volume_l",
              fmt::format("{} are more than the {} this tyre holds, allowed up to that", litres(volume), litres(room)));
        tyre = {medium.medium, medium.concentration, volume, tyre.pressure};
      }
    }
    if (entry.pressure)
      for (const std::size_t wheel : wheels_of(entry.place)) state.tyres[wheel].pressure = *entry.pressure;
    if (is_weights(entry.place) && entry.mass) state.weights[weights_at(entry.place)] = *entry.mass;
    if (entry.track) state.track[entry.place == LogPlace::rear_axle ? 1 : 0] = *entry.track;
  }

  void follow(const LogEntry& entry) {
    switch (entry.what) {
      case LogWhat::filled:
        return fill(entry);
      case LogWhat::drained:
        return drain(entry);
      case LogWhat::fitted:
      case LogWhat::taken_off:
        return weigh(entry);
      case LogWhat::pressure_set:
        return set_pressure(entry);
      case LogWhat::track_set:
        return set_track(entry);
      case LogWhat::checked:
        return found(entry);
    }
  }
};

void check_dates(const Follower& log, const LogEntry& entry, const std::string& last, bool first,
                 const std::string& today) {
  if (entry.date > today)
    log.refuse(entry, "date", fmt::format("{} lies in the future, allowed up to today, {}", entry.date, today));
  if (entry.date < last)
    log.refuse(entry, "date",
               fmt::format("{} lies before {}, {}, allowed that day or later", entry.date,
                           first ? "the day the plan was made" : "the entry above it", last));
  if (!entry.next_check.empty() && entry.next_check < entry.date)
    log.refuse(entry, "next_check",
               fmt::format("{} lies before the day of its own entry, {}, allowed that day or later", entry.next_check,
                           entry.date));
}

// Looked at again is done with, unless that entry says when next.
std::vector<LogCheck> checks_of(const std::vector<LogEntry>& log, const std::string& today) {
  std::map<LogPlace, std::string> due;
  for (const LogEntry& entry : log) {
    if (entry.what == LogWhat::checked) {
      due.erase(entry.place);
      if (entry.place == LogPlace::machine) due.clear();
      if (is_axle(entry.place))
        for (const std::size_t wheel : wheels_of(entry.place)) due.erase(static_cast<LogPlace>(wheel));
    }
    if (!entry.next_check.empty()) due[entry.place] = entry.next_check;
  }
  std::vector<LogCheck> out;
  for (const auto& [place, on] : due) out.push_back({place, on, on < today});
  std::ranges::stable_sort(out, {}, &LogCheck::on);
  return out;
}

bool same_liquid(const TyreState& a, const TyreState& b) {
  return a.medium == b.medium &&
         std::abs(strength(a.medium, a.concentration) - strength(b.medium, b.concentration)) < 1e-6;
}

std::vector<LogStep> left_to_do(const LoggedState& now, const LoggedState& planned, const Scene& scene,
                                const Scene& before) {
  std::vector<LogStep> out;
  for (std::size_t axle = 0; axle < 2; ++axle)
    if (!now.planned_wheels[axle])
      out.push_back({axle == 0 ? LogPlace::front_axle : LogPlace::rear_axle, LogLack::wheels, 0, 1, {}, {}});
  // What is in a tyre that is to come off, and how far it is pumped up, is of no more use.
  const auto comes_off = [&](std::size_t wheel) {
    const std::size_t axle = wheel / 2;
    return !now.planned_wheels[axle] && !same_tyre(axle_at(scene, axle).tyre, axle_at(before, axle).tyre);
  };
  for (std::size_t w = 0; w < kWheels; ++w) {
    if (comes_off(w) && !(planned.tyres[w].volume > 0)) continue;
    const TyreState is = comes_off(w) ? TyreState{} : now.tyres[w], &wanted = planned.tyres[w];
    LogStep step{static_cast<LogPlace>(w), LogLack::volume, is.volume, wanted.volume, is, scene.ballast.fill[w]};
    if (is.volume > kVolumeSlack && wanted.volume > 0 && !same_liquid(is, wanted)) {
      step.lack = LogLack::medium;
      out.push_back(step);
    } else if (std::abs(is.volume - wanted.volume) > std::max(kVolumeSlack, kVolumeSlackShare * wanted.volume)) {
      out.push_back(step);
    }
  }
  for (std::size_t i = 0; i < 4; ++i)
    if (std::abs(now.weights[i] - planned.weights[i]) > kMassSlack)
      out.push_back({static_cast<LogPlace>(index_of(LogPlace::front_weights) + i),
                     LogLack::weights,
                     now.weights[i],
                     planned.weights[i],
                     {},
                     {}});
  for (std::size_t w = 0; w < kWheels; ++w)
    if (!comes_off(w) && std::abs(now.tyres[w].pressure - planned.tyres[w].pressure) > kPressureSlack)
      out.push_back(
          {static_cast<LogPlace>(w), LogLack::pressure, now.tyres[w].pressure, planned.tyres[w].pressure, {}, {}});
  for (std::size_t axle = 0; axle < 2; ++axle)
    if (std::abs(now.track[axle] - planned.track[axle]) > kTrackSlack)
      out.push_back({axle == 0 ? LogPlace::front_axle : LogPlace::rear_axle,
                     LogLack::track,
                     now.track[axle],
                     planned.track[axle],
                     {},
                     {}});
  return out;
}

Scene machine_now(Scene scene, const LoggedState& now, const Scene& before) {
  if (!now.planned_wheels[0]) scene.vehicle.front = before.vehicle.front;
  if (!now.planned_wheels[1]) scene.vehicle.rear = before.vehicle.rear;
  for (std::size_t w = 0; w < kWheels; ++w) {
    TyreFill& fill = scene.ballast.fill[w];
    fill.medium = now.tyres[w].medium;
    fill.concentration = now.tyres[w].concentration;
    fill.fill_fraction = std::min(1.0, now.tyres[w].volume / room_of_tyre(scene, w));
  }
  scene.vehicle.front.tyre.pressure = std::min(now.tyres[kFrontLeft].pressure, now.tyres[kFrontRight].pressure);
  scene.vehicle.rear.tyre.pressure = std::min(now.tyres[kRearLeft].pressure, now.tyres[kRearRight].pressure);
  scene.vehicle.front.track = now.track[0];
  scene.vehicle.rear.track = now.track[1];
  scene.ballast.front_weights = now.weights[0];
  scene.ballast.rear_weights = now.weights[1];
  scene.ballast.front_wheel_weights = now.weights[2] / 2;
  scene.ballast.rear_wheel_weights = now.weights[3] / 2;
  scene.plan = {};
  scene.expect.clear();
  return scene;
}

}  // namespace

double room_of_tyre(const Scene& scene, std::size_t wheel) {
  return cavity_volume(cavity_of(axle_of(scene.vehicle, static_cast<int>(wheel)).tyre));
}

LoggedState state_of(const Scene& scene) {
  LoggedState out;
  for (std::size_t w = 0; w < kWheels; ++w) {
    const TyreFill& fill = scene.ballast.fill[w];
    out.tyres[w] = {fill.medium, fill.concentration, fill.fill_fraction * room_of_tyre(scene, w),
                    axle_of(scene.vehicle, static_cast<int>(w)).tyre.pressure};
  }
  out.weights = {scene.ballast.front_weights, scene.ballast.rear_weights, 2 * scene.ballast.front_wheel_weights,
                 2 * scene.ballast.rear_wheel_weights};
  out.track = {scene.vehicle.front.track, scene.vehicle.rear.track};
  return out;
}

Scene before_plan(const Scene& scene, const std::string& name) {
  Scene out = scene;
  for (const PlanBefore& value : scene.plan.before) {
    if (!value.key.starts_with("ballast.") && !value.key.starts_with("vehicle."))
      refuse_at(name, "plan.before[].key",
                "\"" + value.key + "\" is nothing that a plan changes, allowed keys of ballast and vehicle");
    apply_override(out, value.key + "=" + value.value, name + ": plan.before[]");
  }
  return out;
}

bool keeps_its_tyres(const Scene& scene, const std::string& name, bool front) {
  const std::size_t axle = front ? 0 : 1;
  return same_tyre(axle_at(scene, axle).tyre, axle_at(before_plan(scene, name), axle).tyre);
}

std::vector<PlanBefore> differences(const Scene& before, const Scene& planned) {
  std::vector<PlanBefore> out;
  for (const Field& field : scene_fields()) {
    if (!field.key.starts_with("ballast.") && !field.key.starts_with("vehicle.")) continue;
    const std::string was = text_in_file(field, before);
    if (was != text_in_file(field, planned)) out.push_back({std::string(field.key), was});
  }
  return out;
}

LogAnswer read_log(const Scene& scene, const std::string& name, const std::string& today) {
  if (scene.plan.made.empty())
    refuse_at(name, "plan.made", "missing: this is no plan file; `sidehill plan SCENE --save FILE.toml` writes one");
  if (scene.plan.made > today)
    refuse_at(name, "plan.made", scene.plan.made + " lies in the future, allowed up to today, " + today);
  LogAnswer out;
  out.other_machine = is_of_other_machine(scene);
  const Scene before = before_plan(scene, name);
  out.before = state_of(before);
  for (std::size_t axle = 0; axle < 2; ++axle)
    out.before.planned_wheels[axle] = same_wheels(axle_at(before, axle), axle_at(scene, axle));
  out.planned = state_of(scene);
  Follower log{scene, name, out.before, before};
  std::string last = scene.plan.made;
  for (const LogEntry& entry : scene.plan.log) {
    check_dates(log, entry, last, &entry == &scene.plan.log.front(), today);
    log.follow(entry);
    last = entry.date;
  }
  out.now = log.state;
  out.left = left_to_do(out.now, out.planned, scene, before);
  out.checks = checks_of(scene.plan.log, today);
  for (std::size_t axle = 0; axle < 2; ++axle)
    out.uneven_pressure[axle] =
        std::abs(out.now.tyres[2 * axle].pressure - out.now.tyres[2 * axle + 1].pressure) > kPressureSlack;
  out.machine = machine_now(scene, out.now, before);
  return out;
}

void refuse_to_lose_log(const std::filesystem::path& file) {
  std::error_code error;
  if (!std::filesystem::is_regular_file(file, error)) return;
  bool has_log = false;
  try {
    has_log = !load_scene(file).plan.log.empty();
  } catch (const InputError&) {  // no scene: nothing of a log in it
  }
  if (has_log)
    throw InputError(file.string() + ": is a plan file with a log, which would be lost; allowed another name");
}

std::string entry_text(const LogEntry& entry) {
  Scene scene;
  scene.plan.log.push_back(entry);
  const std::string text = write_scene(scene);
  return text.substr(text.find("[[plan.log]]"));
}

}  // namespace sidehill
