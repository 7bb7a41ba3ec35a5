// How build() goes about it: what the steps share while a Model grows. For sim/model/model.cpp and the build_*.cpp
// only.
#pragma once
#include <span>
#include <string>

#include "sim/model/model.h"

namespace sidehill {

struct Builder {
  const Scene& scene;
  const Vehicle& vehicle;
  Model model;
  const Model* like = nullptr;          // lends its liquid tables
  std::span<const LiquidLump> lenders;  // so do these

  explicit Builder(const Scene& s) : scene(s), vehicle(s.vehicle) {}

  // From the frame people measure in (vehicles/vehicle.h) to V.
  Vec3 to_V(const Vec3& place) const { return {place.x, place.y, place.z - vehicle.rear.tyre.free_radius}; }

  void enter(std::string name, LedgerItem item, LedgerBody body, const MassProperties& props, bool liquid = false) {
    if (props.mass > 0) model.ledger.push_back({std::move(name), item, body, liquid, props, false});
  }
  void enter(LedgerLine line) {
    if (line.props.mass > 0) model.ledger.push_back(std::move(line));
  }
};

LedgerLine driver_line(const Vehicle& vehicle);  // on the seat
LedgerLine tank_line(const Vehicle& vehicle, double fraction);

void add_chassis(Builder& b);  // and the axle beam, weights, tank, driver
void add_loader(Builder& b);   // throws InputError for a bucket pin out of the boom's reach
void add_point_masses(Builder& b);
void add_wheels(Builder& b);     // with what is in the tyres
void set_tyre_laws(Builder& b);  // once all masses are known
// Of what lies in a tyre, over the cavity once warmed or cooled [-].
double fill_now(const BallastPlan& plan, std::size_t wheel, const Settings& settings);
void add_hull(Builder& b);
void add_cautions(Builder& b);

}  // namespace sidehill
