#include "render/text/job/job_slope_words.h"

#include <doctest/doctest.h>

#include "sim/base/constants.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

std::optional<EnvelopePoint> slides_at(double degrees) {
  EnvelopePoint point;
  point.heading = -180 * kDegree;
  point.slide = degrees * kDegree;
  return point;
}

}  // namespace

TEST_CASE("a slope inside the interval of what gives way is not said to be stood on") {
  const double slope = 15 * kDegree;
  const Interval wide{13 * kDegree, 17.4 * kDegree}, narrow{15.05 * kDegree, 15.2 * kDegree},
      open{13 * kDegree, 0, true};
  CHECK(on_job(slope, slides_at(15.1), wide) == OnJob::may_not_hold);
  CHECK(on_job(slope, slides_at(15.1), narrow) == OnJob::stands);
  CHECK(on_job(slope, slides_at(14.6), wide) == OnJob::does_not_stand);
  CHECK(on_job(slope, std::nullopt, std::nullopt) == OnJob::stands);
  CHECK(stands_on_job(slope, slides_at(15.1), wide) ==
        "On the job's 15.0\u00b0 = 27 % it MAY NOT HOLD: it slides at 15.1\u00b0 = 27 % (13.0\u00b0 to 17.4\u00b0), "
        "heading "
        "-180\u00b0, 0.1\u00b0 left.");
  CHECK(stands_on_job(slope, slides_at(14.6), wide).find("it DOES NOT STAND: it slides at 14.6\u00b0") !=
        std::string::npos);
  CHECK(stands_on_job(slope, slides_at(14.6), wide).find("0.4\u00b0 too steep") != std::string::npos);
  CHECK(stands_on_job(slope, slides_at(15.1), open).find("(13.0\u00b0 or more)") != std::string::npos);
}
