#include "render/text/job/job_slope_words.h"

#include <fmt/format.h>

#include <cmath>

#include "render/text/words/words.h"

namespace sidehill::text {

std::string on_job_slope(double slope) {
  return "On the job's " + degrees_and_percent(slope);
}

std::optional<double> left_on_job(double slope, const std::optional<EnvelopePoint>& weakest) {
  if (!weakest) return std::nullopt;
  return angle_between_as_shown(slope, *weakest->gives_way());
}

std::string stands_on_job(double slope, const std::optional<EnvelopePoint>& weakest) {
  if (!weakest) return on_job_slope(slope) + " nothing gives way at the job's headings.";
  const double left = *left_on_job(slope, weakest);
  const bool slides = weakest->slide && weakest->gives_way() == weakest->slide;
  return fmt::format("{} it {}: it {} at {}, heading {}, {} {}.", on_job_slope(slope),
                     left < 0 ? "DOES NOT STAND" : "stands", slides ? "slides" : "lifts a wheel",
                     degrees_and_percent(weakest->gives_way()), signed_degrees(weakest->heading), degrees(std::abs(left)),
                     left < 0 ? "too steep" : "left");
}

}  // namespace sidehill::text
