#include "sim/job/ballast_formulas.h"

#include <algorithm>
#include <cmath>

#include "sim/rest/mass_sums.h"

namespace sidehill {

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

std::optional<LoaderTipping> loader_tipping(const Model& model) {
  const LoaderModel& loader = model.loader;
  if (!loader.fitted) return std::nullopt;
  const double farthest = std::clamp(0.0, loader.min_angle, loader.max_angle), turn = farthest - loader.angle;
  const double forward = loader.length * (std::cos(farthest) - std::cos(loader.angle));
  const double pin = loader.pivot.x + loader.length * std::cos(farthest);
  const Vec3& arms = loader.arms.com;
  const double arms_forward = arms.x * std::cos(turn) - arms.z * std::sin(turn) - arms.x;
  double mass = 0, moment = 0, rear = axle_share(model).rear, on_pin = 0;
  for (const LedgerLine& line : model.ledger)
    if (line.item == LedgerItem::payload) {
      mass += line.props.mass;
      moment += line.props.mass * (line.props.com.x - model.wheelbase);
      if (!line.liquid) on_pin = line.props.mass;
    }
  // Without the load, then with the boom out.
  rear += moment / model.wheelbase;
  rear -= (loader.arms.mass * arms_forward + (loader.bucket.mass - on_pin) * forward) / model.wheelbase;
  // A load in the bucket, if there is none, so that it has a place.
  const double in_bucket = std::max(1.0, on_pin), on_rope = mass - on_pin;
  const double ahead =
      (in_bucket * (pin + loader.load_from_pin.x) + on_rope * pin) / (in_bucket + on_rope) - model.wheelbase;
  const auto tips = tipping_load(rear, model.wheelbase, ahead);
  if (!tips) return std::nullopt;
  return LoaderTipping{ahead, std::max(0.0, *tips)};
}

}  // namespace sidehill
