#include "render/text/job/set_ups_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/text/job/job_slope_words.h"
#include "render/text/job/rule_words.h"
#include "render/text/job/rules_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/verdict_report.h"
#include "render/text/words/line_breaks.h"
#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "sim/base/key_units.h"

namespace sidehill::text {
namespace {

using Json = nlohmann::ordered_json;

// A value in its key's unit; litres an hour and a year, and kilograms a kilowatt, are not in the table of suffixes.
double in_key_unit(std::string_view key, double si) {
  if (key.ends_with("_l_per_h") || key.ends_with("_l_per_year")) return si * 1e3;
  if (key.ends_with("_kg_per_kw")) return si * 1e3;
  const KeyUnit unit = key_unit(key);
  return (si - unit.offset) / unit.to_si;
}
double change_in_key_unit(std::string_view key, double si) { return in_key_unit(key, si) - in_key_unit(key, 0); }

std::optional<DifferenceOf> difference_of(const SetUpRow& row, const SetUpAnswer& a, const SetUpAnswer& b,
                                          const SetUpDifference* pair) {
  if (row.word) return std::nullopt;
  if (row.pair && pair) return row.pair(*pair);
  const auto at_a = row.value(a), at_b = row.value(b);
  if (!at_a || !at_b) return std::nullopt;
  return DifferenceOf{*at_b - *at_a, {}, {}};
}

std::string worst_of(const SetUpAnswer& s, Units units) {
  const StandVerdict verdict = verdict_on(s.answer);
  const std::vector<std::string> all = verdict_sentences(verdict, s.answer.scene, s.answer.statics);
  std::string words = all.front();
  // What nobody knows stands behind a worse headline too.
  if (const std::string unknown = limits_not_known_words(verdict); !unknown.empty() && all.size() > 1)
    words += " " + all.back();
  return read_in(words, units);
}

bool has_job_slope(const SetUpAnswer& s) {
  return s.answer.scene.job.work != Work::none && s.answer.scene.job.slope > 0;
}

// "front axle carries at most what its maker allows (asked at most 900 kg, there 1 152 kg)".
std::string limit_words(const RuleAnswer& rule, const Scene& scene, Units units) {
  return fmt::format("{} (asked {}, there {})", rule_words(rule.id, scene.ballast), asked_words(rule, units),
                     there_words(rule, units));
}

OnJob job_of(const SetUpAnswer& s) {
  return has_job_slope(s) ? on_job(s.answer.scene.job.slope, s.on_job, s.on_job_range) : OnJob::stands;
}

// Ahead of everything: on the job's slope none of them stands, or some do not or may not.
std::string job_summary(std::span<const ShownSetUp> all) {
  std::string failing, doubtful;
  std::size_t fail = 0;
  const ShownSetUp* best = nullptr;
  std::optional<double> common;  // slope of the jobs of those that fail or may
  bool alike = true;
  for (const ShownSetUp& s : all) {
    if (job_of(*s.answer) == OnJob::stands) continue;
    const double asked = s.answer->answer.scene.job.slope;
    alike = alike && asked == common.value_or(asked);
    common = asked;
    if (job_of(*s.answer) == OnJob::may_not_hold) doubtful += (doubtful.empty() ? "" : ", ") + s.name;
    if (job_of(*s.answer) != OnJob::does_not_stand) continue;
    ++fail;
    failing += (failing.empty() ? "" : ", ") + s.name;
    if (!best || *s.answer->on_job->gives_way() > *best->answer->on_job->gives_way()) best = &s;
  }
  if (fail == 0 && doubtful.empty()) return "";
  const std::string slope = alike ? on_job_slope(*common) : "On the slope of its own job";
  if (fail == all.size())
    return fmt::format("{} NONE OF THESE STANDS. The last to give way, {}, does so at {}.", slope, best->name,
                       degrees_and_percent(best->answer->on_job->gives_way()));
  std::string words = slope;
  if (fail > 0) words += fmt::format(" these DO NOT STAND: {}.", failing);
  if (!doubtful.empty()) words += fmt::format("{} MAY NOT HOLD: {}.", fail > 0 ? " These" : " these", doubtful);
  return words;
}

bool is_broken(const RuleAnswer& rule) { return rule.limit && rule.state == RuleState::not_met; }

// Which of them break a limit, and how many: a set-up may stand and still break one.
std::string limits_summary(std::span<const ShownSetUp> all) {
  std::string words;
  for (const ShownSetUp& s : all)
    if (const auto broken = std::ranges::count_if(s.answer->rules.rules, is_broken); broken > 0)
      words += fmt::format("{}{} {}", words.empty() ? "" : ", ", s.name, broken);
  return words.empty() ? "" : "LIMITS NOT MET: " + words + ". Each is named under \"not met\".";
}

std::vector<ShownSetUp> shown_of(const SetUpComparison& all) {
  std::vector<ShownSetUp> list;
  for (const SetUpAnswer& s : all.set_ups) list.push_back({s.name, &s});
  return list;
}

std::string paragraphs(const std::vector<SetUpLine>& lines) {
  std::string text;
  for (const SetUpLine& line : lines) text += paragraph(line.before, line.words);
  return text;
}

// Once where all of them are without the same implement, else by name.
void add_without_implement(std::vector<SetUpLine>& lines, std::span<const ShownSetUp> all, Units units) {
  const auto without = [](const ShownSetUp& s) { return without_implement(s.answer->answer.scene, true); };
  const std::string first = without(all.front());
  if (std::ranges::all_of(all, [&](const ShownSetUp& s) { return without(s) == first; })) {
    if (!first.empty()) lines.push_back({"! ", read_in(first, units), true});
    return;
  }
  for (const ShownSetUp& s : all)
    if (const std::string words = without(s); !words.empty())
      lines.push_back({"! ", s.name + ": " + read_in(words, units), true});
}

}  // namespace

std::string cell_words(const SetUpRow& row, const SetUpAnswer& set_up, Units units) {
  if (row.word) {
    const std::string word = row.word(set_up);
    return word.empty() ? row.instead(set_up) : word;
  }
  const std::optional<double> value = row.value(set_up);
  if (!value || !std::isfinite(*value)) return row.instead(set_up);
  if (row.quantity == Quantity::share) return percent(*value);
  if (row.key == "first_ice_c") {  // to the warm side, as in a medium's name: never colder than it stands
    const ShownUnit unit = shown_unit(row.quantity, units);
    const double whole = std::ceil(*value * unit.factor + unit.offset - 1e-6);
    return shown(row.quantity, (whole - unit.offset) / unit.factor, units);
  }
  if (row.key == "worst_heading_deg") return signed_degrees(*value);
  if (row.quantity == Quantity::angle) return degrees_and_percent(value);
  if (row.quantity == Quantity::number) return fmt::format("{:.0f}", *value);
  return shown(row.quantity, value, units);
}

bool too_much(const SetUpRow& row, const SetUpAnswer& set_up) {
  if (!row.most || !row.value) return false;
  const std::optional<double> value = row.value(set_up);
  return value && *value > *row.most;
}

std::string difference_words(const SetUpRow& row, const SetUpAnswer& a, const SetUpAnswer& b,
                             const SetUpDifference* pair, Units units) {
  if (row.word) {
    const std::string at_a = row.word(a), at_b = row.word(b);
    return at_a.empty() || at_b.empty() || at_a == at_b ? "" : at_b + ", not " + at_a;
  }
  const auto d = difference_of(row, a, b, pair);
  if (!d || !std::isfinite(d->value) || row.key == "worst_heading_deg") return "";
  const bool share = row.quantity == Quantity::share;
  if (share || row.quantity == Quantity::number) {
    const double shown = std::round(share ? 100 * d->value : d->value);
    return shown == 0 ? "" : fmt::format("{:+.0f}{}", shown, share ? std::abs(shown) == 1 ? " point" : " points" : "");
  }
  if (!row.pair && shown_change(row.quantity, d->value, units) == shown_change(row.quantity, 0, units)) return "";
  const std::string words = shown_change(row.quantity, d->value, units);
  // On rows without a pair no interval is worked out; on the others an end that is missing is open.
  if (!row.pair || !pair) return words;
  return words + " (" + shown_change_interval(row.quantity, d->low, d->high, units) + ")";
}

std::vector<SetUpLine> first_lines(std::span<const ShownSetUp> all, Units units) {
  std::vector<SetUpLine> lines;
  std::vector<const SetUpAnswer*> answers;
  if (const std::string line = job_summary(all); !line.empty()) lines.push_back({"! ", line, true});
  if (const std::string line = limits_summary(all); !line.empty()) lines.push_back({"! ", line, true});
  for (const ShownSetUp& s : all) {
    const Answer& answer = s.answer->answer;
    answers.push_back(s.answer);
    const bool grave = !grave_sentences(verdict_on(answer), answer.scene, answer.statics).empty();
    lines.push_back({s.name + ": ", worst_of(*s.answer, units), grave});
    if (has_job_slope(*s.answer))
      lines.push_back({"  ", stands_on_job(answer.scene.job.slope, s.answer->on_job, s.answer->on_job_range),
                       job_of(*s.answer) != OnJob::stands});
    for (const RuleAnswer& rule : s.answer->rules.rules)  // of the limits, what a picture of the slope does not show
      if (rule.id == RuleId::frost && is_broken(rule))
        lines.push_back({"  ", "NOT MET: " + limit_words(rule, answer.scene, units) + ".", true});
  }
  add_without_implement(lines, all, units);
  const Scene& first = all.front().answer->answer.scene;
  const bool one_ground = std::ranges::all_of(
      answers, [&](const SetUpAnswer* s) { return grip_sentence(s->answer.scene) == grip_sentence(first); });
  if (one_ground && has_job_slope(*all.front().answer)) lines.push_back({"", grip_sentence(first), false});
  if (ballast_is_no_answer(answers)) {
    double least = 1e9, most = 0;
    for (const SetUpAnswer* s : answers) {
      least = std::min(least, *s->answer.statics.slide);
      most = std::max(most, *s->answer.statics.slide);
    }
    lines.push_back({"! ",
                     fmt::format("Ballast is not the answer at this heading: it slides at {} whatever is filled "
                                 "in here. A grippier ground or a flatter way is.",
                                 range_in_degrees_and_percent(least, most)),
                     true});
  }
  return lines;
}

std::vector<SetUpLine> lines_of_limits(std::span<const ShownSetUp> all, Units units) {
  std::vector<SetUpLine> lines;
  for (const ShownSetUp& s : all) {
    std::string broken;
    for (const RuleAnswer& rule : worst_first(s.answer->rules.rules))
      if (is_broken(rule)) broken += (broken.empty() ? "" : "; ") + limit_words(rule, s.answer->answer.scene, units);
    if (!broken.empty()) lines.push_back({s.name + ", not met: ", broken, true});
  }
  return lines;
}

std::vector<SetUpLine> lines_of_rust(std::span<const ShownSetUp> all, Units units) {
  struct Rusting {
    std::string names, how;
  };
  std::vector<Rusting> list;  // what is said of several stands once
  for (const ShownSetUp& s : all) {
    const BallastPlan& plan = s.answer->answer.scene.ballast;
    for (std::size_t i = 0; i < kWheels; ++i) {
      if (!(plan.fill[i].fill_fraction > 0)) continue;
      const std::string name = medium_name(mix_of(plan, i)), how(corrosion_of(mix_of(plan, i)));
      const auto same = std::ranges::find(list, how, &Rusting::how);
      if (same == list.end())
        list.push_back({name, how});
      else if (same->names.find(name) == std::string::npos)
        same->names += "; " + name;
    }
  }
  std::vector<SetUpLine> lines;
  for (const Rusting& one : list) lines.push_back({"Rust: ", read_in(one.names + ": " + one.how, units)});
  return lines;
}

std::vector<SetUpLine> lines_of_cautions() {
  std::vector<SetUpLine> lines;
  lines.push_back({"! ",
                   "Intervals are of the even slope. Slip, fuel and soil have none: they are published equations "
                   "on estimated tyres. " +
                       std::string(kTractionCaution)});
  lines.push_back({"! ", std::string(kCautionLine)});
  return lines;
}

std::string set_ups_table(const SetUpComparison& all, Units units) {
  const std::vector<ShownSetUp> each = shown_of(all);
  std::string text = paragraphs(first_lines(each, units));
  if (const std::string job = job_words(all.set_ups.front().answer.scene.job, units); !job.empty())
    text += paragraph("Job: ", job);
  text += "\n";

  std::size_t first = 0;
  for (const SetUpRow& row : set_up_rows()) first = std::max(first, row.name.size());
  std::vector<std::size_t> widths;
  for (const SetUpAnswer& s : all.set_ups) {
    std::size_t width = s.name.size();
    for (const SetUpRow& row : set_up_rows()) width = std::max(width, cell_words(row, s, units).size());
    widths.push_back(width + 3);
  }
  const auto padded = [](const std::string& words, std::size_t width) {
    const auto letters = static_cast<std::size_t>(
        std::ranges::count_if(words, [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
    return std::string(width > letters ? width - letters : 1, ' ') + words;
  };
  text += std::string(first + 2, ' ');
  for (std::size_t i = 0; i < widths.size(); ++i) text += padded(all.set_ups[i].name, widths[i]);
  text += "\n";
  for (const SetUpRow& row : set_up_rows()) {
    text += fmt::format("  {:{}}", read_in(std::string(row.name), units), first);
    for (std::size_t i = 0; i < widths.size(); ++i) text += padded(cell_words(row, all.set_ups[i], units), widths[i]);
    text += "\n";
  }
  for (std::size_t i = 1; i < all.set_ups.size(); ++i) {
    text += fmt::format("\n{} compared with {}; in brackets: where the difference lies nineteen times in twenty:\n",
                        all.set_ups[i].name, all.set_ups.front().name);
    for (const SetUpRow& row : set_up_rows())
      if (const std::string words =
              difference_words(row, all.set_ups.front(), all.set_ups[i], &all.differences[i - 1], units);
          !words.empty())
        text += fmt::format("  {:{}}   {}\n", read_in(std::string(row.name), units), first, words);
  }
  for (const SetUpLine& line : lines_of_limits(each, units)) text += "\n" + paragraph(line.before, line.words);
  if (const std::string rust = paragraphs(lines_of_rust(each, units)); !rust.empty()) text += "\n" + rust;
  return text + "\n" + paragraphs(lines_of_cautions());
}

Json set_ups_json(const SetUpComparison& all) {
  Json set_ups = Json::array(), differences = Json::array();
  for (const SetUpAnswer& s : all.set_ups) {
    Json one = {{"name", s.name}};
    add_verdict(one, verdict_on(s.answer));
    for (const SetUpRow& row : set_up_rows()) {
      if (row.word) {
        const std::string word = row.word(s);
        one[std::string(row.key)] = word.empty() ? Json() : Json(word);
        continue;
      }
      const auto value = row.value(s);
      one[std::string(row.key)] = value && std::isfinite(*value) ? Json(in_key_unit(row.key, *value)) : Json();
    }
    one["rules"] = rules_json(s.rules, s.answer.scene);
    set_ups.push_back(std::move(one));
  }
  for (std::size_t i = 1; i < all.set_ups.size(); ++i)
    for (const SetUpRow& row : set_up_rows())
      if (const auto d = difference_of(row, all.set_ups.front(), all.set_ups[i], &all.differences[i - 1]);
          d && std::isfinite(d->value)) {
        const auto end = [&](const std::optional<double>& side) {
          return side && std::isfinite(*side) ? Json(change_in_key_unit(row.key, *side)) : Json();
        };
        differences.push_back({{"set_up", all.set_ups[i].name},
                               {"against", all.set_ups.front().name},
                               {"quantity", row.key},
                               {"value", change_in_key_unit(row.key, d->value)},
                               {"low", end(d->low)},
                               {"high", end(d->high)}});
      }
  return {{"program", "sidehill " SIDEHILL_VERSION},
          {"title", all.set_ups.front().answer.scene.title},
          {"job", job_words(all.set_ups.front().answer.scene.job, Units::si)},
          {"ballast_is_no_answer", all.ballast_is_no_answer},
          {"set_ups", set_ups},
          {"differences", differences},
          {"cautions", {kTractionCaution, kCautionLine}}};
}

std::string set_ups_csv(const SetUpComparison& all) {
  std::string csv = "name";
  for (const SetUpRow& row : set_up_rows()) csv += "," + std::string(row.key);
  csv += "\n";
  for (const SetUpAnswer& s : all.set_ups) {
    std::string name = s.name;
    std::erase_if(name, [](char c) { return c == '"' || c == ',' || static_cast<unsigned char>(c) < 0x20; });
    csv += name;
    for (const SetUpRow& row : set_up_rows()) {
      if (row.word) {
        csv += "," + row.word(s);
        continue;
      }
      const auto value = row.value(s);
      csv += value && std::isfinite(*value) ? fmt::format(",{:.10g}", in_key_unit(row.key, *value)) : ",";
    }
    csv += "\n";
  }
  return csv;
}

}  // namespace sidehill::text
