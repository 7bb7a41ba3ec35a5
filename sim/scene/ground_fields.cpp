// The rows of the ground, of what lies on it, and of where on it the machine starts.
#include "sim/scene/field_rows.h"

namespace sidehill {

std::vector<Field> ground_fields() {
  return {
      number("terrain.slope_deg", at<&Scene::terrain, &Terrain::slope>(), 0, 60,
             "angle of the even slope, which rises to the north", within(1),  // a spirit level on real ground
             Named{"slope of the ground"}, Slider{"Ground", "Slope", 11, 0, 45, 0.5, 1}),
      text("terrain.soil.name", at<&Scene::terrain, &Terrain::soil, &Soil::name>(), 120,
           "what the ground is, in plain words"),
      flag("terrain.soil.adhesion_unlimited", at<&Scene::terrain, &Terrain::soil, &Soil::adhesion_unlimited>(),
           "wheels never slide (to compare with rigid calculations)"),
      number("terrain.soil.adhesion", at<&Scene::terrain, &Terrain::soil, &Soil::adhesion>(), 0.01, 3,
             "peak tangential force over normal load, along the way a wheel rolls", within(0.1),
             Named{"grip of the ground"}, Slider{"Ground", "Grip of the ground", 13, 0.1, 1.2, 0.05, 2}),
      // Our estimate. Without grip there is nothing to share.
      number("terrain.soil.adhesion_across_ratio", at<&Scene::terrain, &Terrain::soil, &Soil::adhesion_across_ratio>(),
             0.2, 3, "peak across the way a wheel rolls, over that along it; 1 = the same both ways",
             by_rule([](const Scene& s) { return s.terrain.soil.adhesion_unlimited ? 0 : 0.1; }),
             Named{"grip across the wheels over grip along"}),
      number("terrain.soil.rolling_resistance", at<&Scene::terrain, &Terrain::soil, &Soil::rolling_resistance>(), 0, 1,
             "rolling resistance force over normal load", idle()),

      // Asked, not measured; the worst heading stands beside it.
      number("start.heading_deg", at<&Scene::start, &Start::heading>(), -180, 180,
             "0 = facing uphill, positive to the left; -90 = across, downhill to the right", chosen(),
             Slider{"Ground", "Heading", 12, -180, 180, 5, 0}),
      number("start.articulation_deg", at<&Scene::start, &Start::articulation>(), -60, 60,
             "articulated only: front half turned about the joint, left positive", chosen()),
      number("start.x_m", at<&Scene::start, &Start::x>(), -1e4, 1e4, "middle of the rear axle, along the contour",
             chosen()),
      number("start.y_m", at<&Scene::start, &Start::y>(), -1e4, 1e4, "middle of the rear axle, up the slope", chosen()),
  };
}

// An interval is of the even slope: features are left out of it, and so have no doubt.
std::span<const FieldOf<Feature>> feature_fields() {
  static const std::vector<FieldOf<Feature>> kRows = {
      text("name", at<&Feature::name>(), 120, "shown on the ground; may be empty"),
      choice<&Feature::kind>("kind", keys_of<kFeatureKinds>(), "what sticks out of or sinks into the slope"),
      number("x_m", at<&Feature::x>(), -1e4, 1e4, "centre, along the contour", chosen()),
      number("y_m", at<&Feature::y>(), -1e4, 1e4, "centre, up the slope", chosen()),
      number("angle_deg", at<&Feature::angle>(), -360, 360, "long side turned from the contour, anticlockwise",
             chosen()),
      number("length_m", at<&Feature::length>(), 0.05, 200,
             "extent in the direction of driving over it; diameter of hole and stump", chosen()),
      number("width_m", at<&Feature::width>(), 0.05, 200, "extent along the ridge line; rough: along y", chosen()),
      number("height_m", at<&Feature::height>(), 0, 5, "height, or depth of ditch and hole", chosen()),
      row<Feature>("seed", "", "rough only: picks the strip", CountFieldOf<Feature>{at<&Feature::seed>()}),
  };
  return kRows;
}

}  // namespace sidehill
