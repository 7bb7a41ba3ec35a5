#include "tests/kit/uneven_study.h"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "sim/base/constants.h"
#include "sim/insight/trial.h"
#include "sim/motion/run.h"
#include "sim/rest/equilibrium.h"
#include "sim/rest/statics.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"

namespace sidehill {
namespace {

constexpr double kSame = 0.05 * kDegree;   // first lift-offs no further apart say the same
constexpr double kTurn = 0.001 * kDegree;  // a turn that nobody can see
constexpr double kLoadsSame = 0.01;        // of the weight
constexpr double kSettled = 1e-3;          // moved in the last second of a run, at most [m]
constexpr double kStands = 0.02;           // likewise, where it is asked only whether it goes over [m]
constexpr double kUpright = 0.5;           // cosine of its lean
constexpr const char* kStatus[] = {"stands", "wheel_up", "on_stop", "slides", "tipped", "unsolved"};

template <class FieldList, class Owner>
void negate(const FieldList& fields, std::string_view key, Owner& owner) {
  for (const auto& field : fields) {
    if (field.key != key) continue;
    const auto& number = std::get<NumberFieldOf<Owner>>(field.kind);
    set_file_value(number, owner, -file_value(number, owner));
  }
}

// Where both say that they do not know, they say the same.
bool differ(const StaticSolution& a, const StaticSolution& b) {
  if (a.status == RestStatus::unsolved && b.status == RestStatus::unsolved) return false;
  if (a.status != b.status || a.first_lift_off.has_value() != b.first_lift_off.has_value()) return true;
  return a.first_lift_off && std::abs(*a.first_lift_off - *b.first_lift_off) > kSame;
}

std::string words(const StaticSolution& s) {
  char text[64];
  std::snprintf(text, sizeof text, "%s %.3f", kStatus[static_cast<int>(s.status)],
                s.first_lift_off ? *s.first_lift_off / kDegree : -1.0);
  return text;
}

// The run from the resting pose: nobody drives, and the rear wheels are held.
void compare_run(const Scene& scene, const StaticSolution& still, UnevenAnswer& answer) {
  Scene parked = scene;
  parked.programme = Programme{};
  parked.programme.front_drive = scene.programme.front_drive;
  parked.programme.duration = 8;
  parked.programme.drop_height = 0;
  const Model model = build(parked);
  Runner runner(parked, model);
  runner.advance(parked.programme.duration + 1);
  const Recording& recording = runner.recording();
  const State& end = recording.states.back();
  double moved = 0;
  bool touched = false;
  for (const State& state : recording.states) {
    touched = touched || state.hull_touches || state.frame_touches;
    if (state.time > end.time - 1) moved = std::max(moved, glm::length(state.X_GV.p - end.X_GV.p));
  }
  const Outcome how = recording.outcome;
  if (touched || (how != Outcome::stands && how != Outcome::lifts_and_returns && how != Outcome::slides &&
                  how != Outcome::wheel_up))
    return;
  answer.wrongly_tipped = answer.tipped && end.X_GV.R[2].z > kUpright && moved < kStands;
  if (!still.rest || moved > kSettled) return;
  answer.compared = true;
  const double weight = total_mass(model) * model.gravity;
  for (std::size_t i = 0; i < kWheels; ++i)
    answer.load_difference =
        std::max(answer.load_difference, std::abs(end.wheels[i].load - still.rest->load[i]) / weight);
  answer.loads_differ = answer.load_difference > kLoadsSame;
}

UnevenAnswer study_one(std::uint64_t number, const Scene& scene, bool runs) {
  UnevenAnswer answer;
  answer.number = number;
  const Model model = build(scene);
  const StaticSolution still = solve_statics(model), mirror = solve_statics(build(mirrored(scene)));
  Scene turned = scene;
  turned.start.heading += kTurn;
  const StaticSolution beside = solve_statics(build(turned));
  for (const bool uneven : make_system(model).uneven) answer.feature_near = answer.feature_near || uneven;
  answer.mirror_differs = differ(still, mirror);
  if (answer.mirror_differs) answer.mirror_words = words(still) + " / " + words(mirror);
  answer.heading_differs = differ(still, beside);
  if (answer.heading_differs) answer.heading_words = words(still) + " / " + words(beside);
  answer.tips_before_lifting = still.first_lift_off && still.tip_over && *still.tip_over < *still.first_lift_off - 1e-9;
  answer.tipped = still.status == RestStatus::tipped;
  answer.unsolved = still.status == RestStatus::unsolved;
  // A machine that slides goes on sliding, and what a trailer pushes with at rest depends on how it was stopped.
  if (runs && still.status != RestStatus::slides && !answer.unsolved && scene.ballast.trailer.mass == 0)
    compare_run(scene, still, answer);
  return answer;
}

bool wanted(const Scene& scene) {
  const auto& features = scene.terrain.features;
  return !features.empty() && !find_conflict(scene) &&
         std::none_of(features.begin(), features.end(), [](const Feature& f) { return f.kind == FeatureKind::rough; });
}

// Features that lie 2 to 14 m ahead brought to within 1 m behind and 3.5 m ahead of the rear axle, half as high.
void bring_under_wheels(Scene& scene) {
  const double x = -std::sin(scene.start.heading), y = std::cos(scene.start.heading);
  for (Feature& feature : scene.terrain.features) {
    const double ahead = feature.x * x + feature.y * y, moved = -1 + (ahead - 2) / 12 * 4.5 - ahead;
    feature.x += moved * x, feature.y += moved * y;
    feature.height *= 0.5;
  }
}

}  // namespace

Scene mirrored(Scene scene) {
  for (const char* key : {"start.heading_deg", "start.x_m", "start.articulation_deg",
                          "vehicle.chassis.centre_of_gravity_y_m", "vehicle.driver.y_m"})
    negate(scene_fields(), key, scene);
  std::swap(scene.ballast.fill[kFrontLeft], scene.ballast.fill[kFrontRight]);
  std::swap(scene.ballast.fill[kRearLeft], scene.ballast.fill[kRearRight]);
  for (Feature& feature : scene.terrain.features) feature.x = -feature.x, feature.angle = -feature.angle;
  for (PointMass& mass : scene.ballast.point_masses) negate(point_mass_fields(), "y_m", mass);
  return scene;
}

std::vector<UnevenAnswer> study_uneven(std::uint64_t first, std::size_t count, Features where, bool runs) {
  std::vector<std::pair<std::uint64_t, Scene>> scenes;
  for (std::uint64_t number = first; scenes.size() < count; ++number) {
    Scene scene = random_scene(number);
    if (where == Features::under_the_wheels) bring_under_wheels(scene);
    if (wanted(scene)) scenes.emplace_back(number, std::move(scene));
  }
  std::vector<UnevenAnswer> answers(scenes.size());
  tbb::parallel_for(std::size_t{0}, scenes.size(),
                    [&](std::size_t i) { answers[i] = study_one(scenes[i].first, scenes[i].second, runs); });
  return answers;
}

UnevenCounts count_uneven(const std::vector<UnevenAnswer>& answers) {
  UnevenCounts counts;
  for (const UnevenAnswer& a : answers) {
    ++counts.scenes;
    counts.feature_near += a.feature_near;
    counts.mirror_agrees += !a.mirror_differs;
    counts.heading_agrees += !a.heading_differs;
    counts.tips_before_lifting += a.tips_before_lifting;
    counts.tipped += a.tipped;
    counts.unsolved += a.unsolved;
    counts.compared += a.compared;
    counts.loads_agree += a.compared && !a.loads_differ;
    counts.loads_differ += a.loads_differ;
    counts.wrongly_tipped += a.wrongly_tipped;
  }
  return counts;
}

}  // namespace sidehill
