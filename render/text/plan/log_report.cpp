#include "render/text/plan/log_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "render/text/job/job_slope_words.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/liquid.h"

namespace sidehill::text {
namespace {

using LogJson = nlohmann::ordered_json;

std::string_view log_key(LogPlace place) { return kLogPlaces[static_cast<std::size_t>(place)].key; }
std::string log_name(LogPlace place) { return std::string(kLogPlaces[static_cast<std::size_t>(place)].name); }

std::string in_litres(double volume) { return fmt::format("{:.0f}", volume * 1e3); }

std::string liquid_name(const Scene& scene, Medium medium, double concentration) {
  return medium_name({medium, concentration, &scene.ballast.own_medium});
}

// What is done, in one word behind the place.
const char* done_words(LogWhat what) {
  switch (what) {
    case LogWhat::filled:
      return "filled";
    case LogWhat::drained:
      return "drained";
    case LogWhat::fitted:
      return "fitted";
    case LogWhat::taken_off:
      return "taken off";
    case LogWhat::pressure_set:
      return "pressure set";
    case LogWhat::track_set:
      return "track set";
    case LogWhat::checked:
      return "checked";
  }
  return "";
}

// "2026-11-28, rear left tyre: filled, 200 L of water, 160 kPa (Ana Silva). Next check 2027-05-01. Note."
std::string log_entry_words(const LogEntry& entry) {
  std::string words = fmt::format("{}, {}: {}", entry.date, log_name(entry.place), done_words(entry.what));
  if (entry.volume) words += fmt::format(", {} L", in_litres(*entry.volume));
  if (!entry.medium.empty()) words += fmt::format("{} {}", entry.volume ? " of" : ",", entry.medium);
  if (entry.mass) words += fmt::format(", {:.4g} kg", *entry.mass);
  if (entry.pressure) words += fmt::format(", {:.0f} kPa", *entry.pressure / 1e3);
  if (entry.track) words += fmt::format(", {:.2f} m", *entry.track);
  if (!entry.who.empty()) words += fmt::format(" ({})", entry.who);
  words += ".";
  if (!entry.next_check.empty()) words += fmt::format(" Next check {}.", entry.next_check);
  if (!entry.note.empty()) words += " " + entry.note;
  return words;
}

// The most telling first: the wrong liquid, then what is furthest from its plan.
std::vector<LogStep> worst_first(std::vector<LogStep> steps) {
  const auto rank = [](const LogStep& step) {
    if (step.lack == LogLack::wheels) return -2.0;
    if (step.lack == LogLack::medium) return -1.0;
    const double share = std::abs(step.now - step.planned) / std::max(step.now, step.planned);
    return 1 - share + 1e-3 * static_cast<double>(step.lack);
  };
  std::ranges::stable_sort(steps, {}, rank);
  return steps;
}

// "the dual wheels of the plan", "the 520/70R38 tyres of the plan".
std::string wheels_of_plan(const LogStep& step, const Scene& scene) {
  const Axle& axle = step.place == LogPlace::rear_axle ? scene.vehicle.rear : scene.vehicle.front;
  return fmt::format("the {} of the plan", axle.dual_spacing > 0 ? "dual wheels" : axle.tyre.size + " tyres");
}

bool falls(const std::optional<JobSlope>& slope) {
  return slope && on_job(slope->slope, slope->as_is, slope->range) == OnJob::does_not_stand;
}

std::string stand_words(const JobSlope& slope) { return stands_on_job(slope.slope, slope.as_is, slope.range); }

}  // namespace

std::string lack_words(const LogStep& step, const Scene& scene) {
  const std::string place = log_name(step.place);
  switch (step.lack) {
    case LogLack::volume:
      return fmt::format("{}: {} of {} L", place, in_litres(step.now), in_litres(step.planned));
    case LogLack::medium:
      return fmt::format("{}: {} in place of {}", place, liquid_name(scene, step.in.medium, step.in.concentration),
                         liquid_name(scene, step.wanted.medium, step.wanted.concentration));
    case LogLack::weights:
      return fmt::format("{}: {:.4g} of {:.4g} kg", place, step.now, step.planned);
    case LogLack::pressure:
      return fmt::format("{}: {:.0f} kPa, planned {:.0f} kPa", place, step.now / 1e3, step.planned / 1e3);
    case LogLack::track:
      return fmt::format("{}: track {:.2f} m, planned {:.2f} m", place, step.now, step.planned);
    case LogLack::wheels:
      return fmt::format("{}: {} not on", place, wheels_of_plan(step, scene));
  }
  return "";
}

std::string step_words(const LogStep& step, const Scene& scene) {
  const std::string place = log_name(step.place);
  const double change = step.planned - step.now;
  switch (step.lack) {
    case LogLack::volume:
      if (change < 0)
        return fmt::format("{}: let out {} L ({} of {} L stay)", place, in_litres(-change), in_litres(step.planned),
                           in_litres(step.now));
      return fmt::format("{}: fill in {} L of {} ({} L are in)", place, in_litres(change),
                         liquid_name(scene, step.wanted.medium, step.wanted.concentration), in_litres(step.now));
    case LogLack::medium:
      return fmt::format("{}: let out all {} L of {}, then fill in {} L of {}", place, in_litres(step.now),
                         liquid_name(scene, step.in.medium, step.in.concentration), in_litres(step.planned),
                         liquid_name(scene, step.wanted.medium, step.wanted.concentration));
    case LogLack::weights:
      return fmt::format("{}: {} {:.4g} kg ({:.4g} kg are on)", place, change < 0 ? "take off" : "fit",
                         std::abs(change), step.now);
    case LogLack::pressure:
      return fmt::format("{}: set {:.0f} kPa (now {:.0f} kPa)", place, step.planned / 1e3, step.now / 1e3);
    case LogLack::track:
      return fmt::format("{}: set the track to {:.2f} m (now {:.2f} m)", place, step.planned, step.now);
    case LogLack::wheels:
      return fmt::format("{}: fit {}", place, wheels_of_plan(step, scene));
  }
  return "";
}

std::string log_verdict(const Scene& scene, const LogAnswer& answer, const LogStand& stand) {
  std::vector<std::string> facts;
  if (answer.other_machine)
    facts.emplace_back(
        "ANOTHER MACHINE: this plan was made for a machine with other numbers than the one in its file, so its litres, "
        "kilograms and slopes do not hold for it");
  if (!answer.other_machine && falls(stand.now))
    facts.push_back(fmt::format("DOES NOT STAND as it is now on the job's {}: it gives way at {}",
                                degrees_and_percent(stand.now->slope),
                                degrees_and_percent(*stand.now->as_is->gives_way())));
  if (!answer.other_machine && stand.now && !falls(stand.now)) {
    const JobSlope& slope = *stand.now;
    if (slope.lost > 0)
      facts.push_back(
          fmt::format("NOT KNOWN whether it stands as it is now on the job's {}", degrees_and_percent(slope.slope)));
    else if (on_job(slope.slope, slope.as_is, slope.range) == OnJob::may_not_hold)
      facts.push_back(
          fmt::format("MAY NOT HOLD as it is now on the job's {}: it gives way at {} at the low end of what is known",
                      degrees_and_percent(slope.slope), degrees_and_percent(slope.range->low)));
  }
  if (!answer.left.empty()) {
    const std::vector<LogStep> steps = worst_first(answer.left);
    facts.push_back(fmt::format(
        "{}: {}{}", scene.plan.log.empty() ? "NOT CARRIED OUT, nothing is logged" : "NOT AS PLANNED",
        lack_words(steps.front(), scene), steps.size() > 1 ? fmt::format("; and {} more", steps.size() - 1) : ""));
  }
  const auto overdue = std::ranges::count_if(answer.checks, &LogCheck::overdue);
  if (overdue > 0)
    facts.push_back(fmt::format("CHECK OVERDUE since {} ({}){}", answer.checks.front().on,
                                log_name(answer.checks.front().place),
                                overdue > 1 ? fmt::format(" and {} more", overdue - 1) : ""));
  if (answer.left.empty())
    facts.push_back(scene.plan.log.empty() ? "As it stood before it is as planned; nothing is logged"
                                           : "By its log it is as planned");
  std::string words;
  for (const std::string& fact : facts) words += (words.empty() ? "" : "; ") + fact;
  if (overdue > 0) return words + ".";
  return words + (answer.checks.empty() ? ". No next check is set."
                                        : fmt::format(". Next check: {}.", answer.checks.front().on));
}

std::string log_table(const Scene& scene, const LogAnswer& answer, const LogStand& stand, const std::string& today,
                      Units units) {
  const PlanRecord& plan = scene.plan;
  std::string text = read_in(log_verdict(scene, answer, stand), units) + "\n\n";
  const auto add = [&](std::string_view mark, const std::string& words) {
    text += paragraph(mark, read_in(words, units));
  };
  add("", fmt::format("Plan of {}: {}. Machine: {}{}. Today: {}.", plan.made,
                      plan.name.empty() ? "without a name" : plan.name, scene.vehicle.name,
                      scene.record.machine_number.empty() ? ", its number is not given"
                                                          : ", number " + scene.record.machine_number,
                      today));
  text += answer.left.empty() ? "\nLeft to do: nothing.\n" : "\nLeft to do:\n";
  for (const LogStep& step : answer.left) add("  - ", step_words(step, scene) + ".");
  text += answer.checks.empty() ? "\nNext checks: none is set.\n" : "\nNext checks:\n";
  for (const LogCheck& check : answer.checks)
    add("  - ", fmt::format("{}: {}{}", check.on, log_name(check.place), check.overdue ? ", OVERDUE." : "."));
  text += plan.log.empty() ? "\nDone: nothing is logged.\n" : "\nDone:\n";
  for (const LogEntry& entry : plan.log) add("  - ", log_entry_words(entry));
  if (stand.now && !answer.other_machine) {
    text += "\n";
    add("", "As it is now: " + stand_words(*stand.now));
    if (stand.planned) add("", "As planned: " + stand_words(*stand.planned));
  }
  constexpr const char* kAxle[] = {"front", "rear"};
  for (std::size_t axle = 0; axle < 2; ++axle)
    if (answer.uneven_pressure[axle])
      add("! ", fmt::format("The two {} tyres are pumped up to {:.0f} and {:.0f} kPa. The calculation knows one "
                            "pressure an axle and takes the lower one, which carries less.",
                            kAxle[axle], answer.now.tyres[2 * axle].pressure / 1e3,
                            answer.now.tyres[2 * axle + 1].pressure / 1e3));
  text += "\n";
  add("",
      "The machine as it is now follows from this log alone: what nobody wrote down, and what leaked out since, is "
      "not in it. Litres count as planned within 2 % or 2 litres, kilograms within 0.5 kg, pressures within 5 kPa, "
      "tracks within 1 cm.");
  return text;
}

LogJson log_json(const Scene& scene, const LogAnswer& answer, const LogStand& stand, const std::string& today) {
  const auto maybe = [](const std::optional<double>& value, double unit) {
    return value ? LogJson(*value / unit) : LogJson(nullptr);
  };
  const auto word = [](const std::string& text) { return text.empty() ? LogJson(nullptr) : LogJson(text); };
  const auto stands = [&](const std::optional<JobSlope>& slope) {
    if (!slope) return LogJson(nullptr);
    return LogJson{{"gives_way_deg", slope->as_is ? LogJson(*slope->as_is->gives_way() / kDegree) : LogJson(nullptr)},
                   {"stands", slope->stands()}};
  };
  const auto state = [&](const LoggedState& of) {
    LogJson out;
    for (const TyreState& tyre : of.tyres) {
      out["volume_l"].push_back(tyre.volume * 1e3);
      out["medium"].push_back(tyre.volume > 0 ? LogJson(info(tyre.medium).key) : LogJson(nullptr));
      out["pressure_kpa"].push_back(tyre.pressure / 1e3);
    }
    for (std::size_t i = 0; i < 4; ++i)
      out[fmt::format("{}_kg", kLogPlaces[static_cast<std::size_t>(LogPlace::front_weights) + i].key)] = of.weights[i];
    out["track_m"] = of.track;
    out["planned_wheels"] = of.planned_wheels;
    return out;
  };
  LogJson out;
  out["verdict"] = log_verdict(scene, answer, stand);
  out["plan"] = word(scene.plan.name);
  out["made"] = scene.plan.made;
  out["today"] = today;
  out["machine"] = scene.vehicle.name;
  out["machine_number"] = word(scene.record.machine_number);
  out["other_machine"] = answer.other_machine;
  out["as_planned"] = answer.left.empty();
  out["overdue"] = std::ranges::any_of(answer.checks, &LogCheck::overdue);
  constexpr const char* kLacks[] = {"volume", "medium", "weights", "pressure", "track", "wheels"};
  constexpr const char* kSuffix[] = {"_l", "_l", "_kg", "_kpa", "_m", ""};
  constexpr double kUnits[] = {1e-3, 1e-3, 1, 1e3, 1, 1};
  out["left"] = LogJson::array();
  for (const LogStep& step : answer.left) {
    const auto lack = static_cast<std::size_t>(step.lack);
    const std::string suffix = kSuffix[lack];
    LogJson one = {{"place", log_key(step.place)}, {"lack", kLacks[lack]}, {"words", step_words(step, scene)}};
    one["now" + suffix] = step.now / kUnits[lack];
    one["planned" + suffix] = step.planned / kUnits[lack];
    if (step.lack == LogLack::medium) one["medium_now"] = info(step.in.medium).key;
    if (step.lack == LogLack::medium || step.lack == LogLack::volume) one["medium"] = info(step.wanted.medium).key;
    out["left"].push_back(one);
  }
  out["checks"] = LogJson::array();
  for (const LogCheck& check : answer.checks)
    out["checks"].push_back({{"place", log_key(check.place)}, {"on", check.on}, {"overdue", check.overdue}});
  out["entries"] = LogJson::array();
  for (const LogEntry& entry : scene.plan.log)
    out["entries"].push_back({{"date", entry.date},
                              {"who", word(entry.who)},
                              {"place", log_key(entry.place)},
                              {"what", kLogWhats[static_cast<std::size_t>(entry.what)].key},
                              {"volume_l", maybe(entry.volume, 1e-3)},
                              {"mass_kg", maybe(entry.mass, 1)},
                              {"pressure_kpa", maybe(entry.pressure, 1e3)},
                              {"track_m", maybe(entry.track, 1)},
                              {"medium", word(entry.medium)},
                              {"concentration", maybe(entry.concentration, 1)},
                              {"next_check", word(entry.next_check)},
                              {"note", word(entry.note)}});
  out["before"] = state(answer.before);
  out["now"] = state(answer.now);
  out["planned"] = state(answer.planned);
  out["uneven_pressure"] = answer.uneven_pressure;
  out["stand_now"] = stands(stand.now);
  out["stand_planned"] = stands(stand.planned);
  return out;
}

}  // namespace sidehill::text
