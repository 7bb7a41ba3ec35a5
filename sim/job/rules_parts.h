// The rules by what they look at. Part of sim/job/rules.
#pragma once
#include "sim/job/rules.h"
#include "sim/scene/scene.h"

namespace sidehill {

struct RuleParts {
  const Scene& scene;
  const Model& model;
  RuleReport& report;  // `rules` grows; the rest is read

  void axles_and_tyres();
  void mounts();
  void steering();
  void hitch();
  void loader();
  void liquid();
  void mass_and_split();

  // Sets the state by the numbers, and drops a cure of what is met.
  void add(RuleAnswer rule);
};

}  // namespace sidehill
