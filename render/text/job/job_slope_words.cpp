#include "render/text/job/job_slope_words.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "render/text/words/units.h"
#include "render/text/words/words.h"
#include "terrain/soil_presets.h"

namespace sidehill::text {

std::string on_job_slope(double slope) { return "On the job's " + degrees_and_percent(slope); }

std::optional<double> left_on_job(double slope, const std::optional<EnvelopePoint>& weakest) {
  if (!weakest) return std::nullopt;
  return angle_between_as_shown(slope, *weakest->gives_way());
}

OnJob on_job(double slope, const std::optional<EnvelopePoint>& weakest, const std::optional<Interval>& range) {
  if (left_on_job(slope, weakest).value_or(0) < 0) return OnJob::does_not_stand;
  return range && range->low < slope ? OnJob::may_not_hold : OnJob::stands;
}

std::string stands_on_job(double slope, const std::optional<EnvelopePoint>& weakest,
                          const std::optional<Interval>& range) {
  if (!weakest) return on_job_slope(slope) + " nothing gives way at the job's headings.";
  const char* const kSays[] = {"stands", "MAY NOT HOLD", "DOES NOT STAND"};
  const OnJob says = on_job(slope, weakest, range);
  const bool slides = weakest->slide && weakest->gives_way() == weakest->slide;
  const std::string where =
      range ? " (" +
                  shown_interval(Quantity::angle, range->low, range->open ? std::nullopt : std::optional(range->high),
                                 Units::si) +
                  ")"
            : "";
  return fmt::format("{} it {}: it {} at {}{}, heading {}, {} {}.", on_job_slope(slope), kSays[static_cast<int>(says)],
                     slides ? "slides" : "lifts a wheel", degrees_and_percent(weakest->gives_way()), where,
                     signed_degrees(weakest->heading), degrees(std::abs(*left_on_job(slope, weakest))),
                     says == OnJob::does_not_stand ? "too steep" : "left");
}

std::string job_slope_words(const JobSlope& job) {
  const std::string known = job.as_is || job.lost == 0 ? stands_on_job(job.slope, job.as_is, job.range) : "";
  if (job.lost == 0) return known;
  return fmt::format("NOT KNOWN whether it stands on the job's {}: no balance was found at {} heading{}.{}{}",
                     degrees_and_percent(job.slope), job.lost, job.lost == 1 ? "" : "s", known.empty() ? "" : " ",
                     known);
}

std::string grip_sentence(const Scene& scene) {
  const Soil& soil = scene.terrain.soil;
  if (soil.adhesion_unlimited) return "The scene's ground holds whatever the slope: nothing slides here, as it would.";
  std::string words =
      fmt::format("Slopes rest on a grip of {:.2f}, that of the scene's ground ({}).", soil.adhesion, soil.name);
  const auto presets = soil_presets();
  const auto wet = std::ranges::find(presets, std::string_view("wet grass"), &SoilPreset::name);
  if (scene.job.wet && wet != presets.end() && soil.adhesion > wet->adhesion_high)
    words += fmt::format(" THE JOB SAYS WET: wet grass grips {:.1f} to {:.1f}. Ask again with the grip of your ground.",
                         wet->adhesion_low, wet->adhesion_high);
  return words;
}

}  // namespace sidehill::text
