// The lists of a scene ([[terrain.feature]] and so on), each named once: reader, writer, messages and reference ask
// here.
#pragma once
#include <cstddef>
#include <span>
#include <string_view>
#include <tuple>
#include <vector>

#include "sim/scene/scene_fields.h"

namespace sidehill {

template <class T>
struct SceneList {
  std::string_view name;                           // in files: [[terrain.feature]]
  std::vector<T>& (*entries)(Scene&);              // where they are kept
  std::span<const FieldOf<T>> (*fields)();         // of one entry
  std::size_t least = 0, most = kMostListEntries;  // entries allowed
};

inline std::vector<Feature>& features_in(Scene& scene) { return scene.terrain.features; }
inline std::vector<PointMass>& point_masses_in(Scene& scene) { return scene.ballast.point_masses; }
inline std::vector<Action>& actions_in(Scene& scene) { return scene.programme.actions; }
inline std::vector<WeightOnHand>& weights_in(Scene& scene) { return scene.job.weights; }
inline std::vector<MediumOnHand>& media_in(Scene& scene) { return scene.job.media; }
inline std::vector<WheelsOnHand>& wheels_in(Scene& scene) { return scene.job.wheels; }
inline std::vector<Tolerance>& tolerances_in(Scene& scene) { return scene.tolerances; }
inline std::vector<Expect>& expected_in(Scene& scene) { return scene.expect; }
inline std::vector<PlanBefore>& plan_before_in(Scene& scene) { return scene.plan.before; }
inline std::vector<LogEntry>& log_in(Scene& scene) { return scene.plan.log; }

// In the order they are written. A new list is a line here, its entries above, and a list of fields in
// sim/scene/scene_fields.h.
inline constexpr std::tuple kSceneLists{
    SceneList<Feature>{"terrain.feature", features_in, feature_fields},
    SceneList<PointMass>{"ballast.point_mass", point_masses_in, point_mass_fields},
    SceneList<Action>{"programme.action", actions_in, action_fields},
    SceneList<WeightOnHand>{"job.weight", weights_in, weight_on_hand_fields},
    SceneList<MediumOnHand>{"job.medium", media_in, medium_on_hand_fields},
    SceneList<WheelsOnHand>{"job.wheels", wheels_in, wheels_on_hand_fields},
    SceneList<Tolerance>{"tolerance", tolerances_in, tolerance_fields},
    SceneList<Expect>{"expect", expected_in, expect_fields},
    SceneList<PlanBefore>{"plan.before", plan_before_in, plan_before_fields},
    SceneList<LogEntry>{"plan.log", log_in, log_fields},
};

// Calls visit(list) for each of them.
template <class Visit>
void for_each_list(Visit visit) {
  std::apply([&](const auto&... list) { (visit(list), ...); }, kSceneLists);
}

// Calls visit(list) for the one of that name; false if there is none.
template <class Visit>
bool with_list(std::string_view name, Visit visit) {
  bool found = false;
  for_each_list([&](const auto& list) {
    if (list.name == name) found = true, visit(list);
  });
  return found;
}

inline bool is_list(std::string_view name) {
  return with_list(name, [](const auto&) {});
}

}  // namespace sidehill
