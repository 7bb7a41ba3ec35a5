#include "render/text/job/set_ups_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

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

std::optional<DifferenceOf> difference_of(const SetUpRow& row, const SetUpComparison& all, std::size_t other) {
  if (row.pair) return row.pair(all.differences[other - 1]);
  const auto a = row.value(all.set_ups.front()), b = row.value(all.set_ups[other]);
  if (!a || !b) return std::nullopt;
  return DifferenceOf{*b - *a, {}, {}};
}

// On rows without a pair no interval was worked out; on the others an end that is missing is open.
std::string interval_of(const SetUpRow& row, const DifferenceOf& d, Units units) {
  if (!row.pair) return "";
  return " (" + shown_change_interval(row.quantity, d.low, d.high, units) + ")";
}

std::string worst_of(const SetUpAnswer& s, Units units) {
  const StandVerdict verdict = verdict_on(s.answer);
  std::string words = verdict_sentences(verdict, s.answer.scene, s.answer.statics).front();
  if (units == Units::us) words = in_us_units(words);
  return words;
}

std::string job_line(const SetUpAnswer& s) {
  const Job& job = s.answer.scene.job;
  if (job.work == Work::none || !(job.slope > 0)) return "";
  const std::string slope = "the job's " + degrees_and_percent(job.slope);
  if (!s.on_job) return "Nothing gives way at the job's headings.";
  const double left = angle_between_as_shown(job.slope, *s.on_job->gives_way());
  const bool slides = s.on_job->slide && s.on_job->gives_way() == s.on_job->slide;
  return fmt::format("On {} it {}: it {} at {}, heading {}, {} {}.", slope, left < 0 ? "DOES NOT STAND" : "stands",
                     slides ? "slides" : "lifts a wheel", degrees_and_percent(s.on_job->gives_way()),
                     signed_degrees(s.on_job->heading), degrees(std::abs(left)), left < 0 ? "too steep" : "left");
}

bool fails_job(const SetUpAnswer& s) {
  return s.on_job && angle_between_as_shown(s.answer.scene.job.slope, *s.on_job->gives_way()) < 0;
}

// Ahead of everything: on the job's slope none of them stands, or some do not.
std::string job_summary(const SetUpComparison& all) {
  const Job& job = all.set_ups.front().answer.scene.job;
  std::string failing;
  std::size_t fail = 0;
  const SetUpAnswer* best = nullptr;
  for (const SetUpAnswer& s : all.set_ups) {
    if (!fails_job(s)) continue;
    ++fail;
    failing += (failing.empty() ? "" : ", ") + s.name;
    if (!best || *s.on_job->gives_way() > *best->on_job->gives_way()) best = &s;
  }
  if (fail == 0) return "";
  const std::string slope = "On the job's " + degrees_and_percent(job.slope);
  if (fail == all.set_ups.size())
    return fmt::format("{} NONE OF THESE STANDS. The one that stands longest, {}, gives way at {}.", slope, best->name,
                       degrees_and_percent(best->on_job->gives_way()));
  return fmt::format("{} these DO NOT STAND: {}.", slope, failing);
}

}  // namespace

std::string cell_words(const SetUpRow& row, const SetUpAnswer& set_up, Units units) {
  const std::optional<double> value = row.value(set_up);
  if (!value || !std::isfinite(*value)) return row.instead(set_up);
  if (row.quantity == Quantity::share) return percent(*value);
  if (row.key == "worst_heading_deg") return signed_degrees(*value);
  if (row.quantity == Quantity::angle) return degrees_and_percent(value);
  if (row.quantity == Quantity::number) return fmt::format("{:.0f}", *value);
  return shown(row.quantity, value, units);
}

std::string difference_words(const SetUpRow& row, const SetUpComparison& all, std::size_t other, Units units) {
  const auto d = difference_of(row, all, other);
  if (!d || !std::isfinite(d->value) || row.key == "worst_heading_deg") return "";
  const bool share = row.quantity == Quantity::share;
  if (share || row.quantity == Quantity::number) {
    const double shown = std::round(share ? 100 * d->value : d->value);
    return shown == 0 ? "" : fmt::format("{:+.0f}{}", shown, share ? std::abs(shown) == 1 ? " point" : " points" : "");
  }
  if (!row.pair && shown_change(row.quantity, d->value, units) == shown_change(row.quantity, 0, units)) return "";
  return shown_change(row.quantity, d->value, units) + interval_of(row, *d, units);
}

std::string set_ups_table(const SetUpComparison& all, Units units) {
  std::string text;
  if (const std::string line = job_summary(all); !line.empty()) text += paragraph("! ", line);
  for (const SetUpAnswer& s : all.set_ups) {
    text += paragraph(s.name + ": ", worst_of(s, units));
    if (const std::string line = job_line(s); !line.empty()) text += paragraph("  ", line);
  }
  if (all.ballast_is_no_answer) {
    double least = 1e9, most = 0;
    for (const SetUpAnswer& s : all.set_ups) {
      least = std::min(least, *s.answer.statics.slide);
      most = std::max(most, *s.answer.statics.slide);
    }
    text +=
        paragraph("! ", fmt::format("Ballast is not the answer at this heading: it slides at {}{} whatever is filled "
                                    "in here. A grippier ground or a flatter way is.",
                                    degrees(least), most - least > 0.0009 ? " to " + degrees(most) : ""));
  }
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
    text += fmt::format("\n{} less {}, in brackets where the difference lies nineteen times in twenty:\n",
                        all.set_ups[i].name, all.set_ups.front().name);
    for (const SetUpRow& row : set_up_rows())
      if (const std::string words = difference_words(row, all, i, units); !words.empty())
        text += fmt::format("  {:{}}   {}\n", read_in(std::string(row.name), units), first, words);
  }
  for (const SetUpAnswer& s : all.set_ups) {
    std::string broken;
    for (const RuleAnswer& rule : worst_first(s.rules.rules))
      if (rule.limit && rule.state == RuleState::not_met)
        broken += (broken.empty() ? "" : "; ") + fmt::format("{} (asked {}, there {})",
                                                             rule_words(rule.id, s.answer.scene.ballast),
                                                             asked_words(rule, units), there_words(rule, units));
    if (!broken.empty()) text += paragraph("\n" + s.name + ", not met: ", broken);
  }
  text += "\n";
  const Scene& scene = all.set_ups.front().answer.scene;
  if (scene.job.implement_mass > 0 && !(scene.ballast.implement.mass > 0) && !(scene.ballast.trailer.mass > 0))
    text += paragraph("! ",
                      "The job's implement counts in limits, slip and soil. The slopes are without it: hang it on "
                      "with ballast.implement.* or ballast.trailer.*.");
  text += paragraph("! ",
                    "Intervals are of the even slope. Slip, fuel and soil have none: they are published equations "
                    "on estimated tyres. " +
                        std::string(kTractionCaution));
  text += paragraph("! ", kCautionLine);
  return text;
}

Json set_ups_json(const SetUpComparison& all) {
  Json set_ups = Json::array(), differences = Json::array();
  for (const SetUpAnswer& s : all.set_ups) {
    Json one = {{"name", s.name}};
    add_verdict(one, verdict_on(s.answer));
    for (const SetUpRow& row : set_up_rows()) {
      const auto value = row.value(s);
      one[std::string(row.key)] = value && std::isfinite(*value) ? Json(in_key_unit(row.key, *value)) : Json();
    }
    one["rules"] = rules_json(s.rules, s.answer.scene);
    set_ups.push_back(std::move(one));
  }
  for (std::size_t i = 1; i < all.set_ups.size(); ++i)
    for (const SetUpRow& row : set_up_rows())
      if (const auto d = difference_of(row, all, i); d && std::isfinite(d->value)) {
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
      const auto value = row.value(s);
      csv += value && std::isfinite(*value) ? fmt::format(",{:.10g}", in_key_unit(row.key, *value)) : ",";
    }
    csv += "\n";
  }
  return csv;
}

}  // namespace sidehill::text
