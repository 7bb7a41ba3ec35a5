// The rows of wheels and tyres, front and rear alike.
#include "sim/scene/field_rows.h"
#include "vehicles/tyre_library.h"

namespace sidehill {
namespace {

// What a tyre's size, pressure and load give: sim/own_machine/machine_parts.cpp works all of them out together.
constexpr FromClass kTyre{ScalesBy::tyre};

std::optional<Span> usual_tracks(const Scene& scene) {
  // Of a rear rim and disc: from where the tyres nearly meet to half as wide again, from the tyre's width.
  const Axle& rear = scene.vehicle.rear;
  const double narrow = std::max(0.6, rear.tyre.section_width * 2.2);
  return Span{whole_steps_below(std::min(narrow, rear.track), 0.05),
              whole_steps_above(std::max(2.4, rear.track), 0.05)};
}
constexpr Slider kRearTrack{"Machine", "Rear track width", 41, 0, 0, 0.02, 2, usual_tracks};

// Up to the pressure at which the tyre's load index holds: what this tyre may be pumped to.
template <Axle Vehicle::*axle>
std::optional<Span> usual_pressures(const Scene& scene) {
  const Tyre& tyre = (scene.vehicle.*axle).tyre;
  const double now = tyre.pressure / 1000, rated = rated_pressure(tyre) / 1000;  // [kPa]
  const double most = rated > 0 ? std::max(rated, now) : 1.5 * now;
  return Span{whole_steps_below(std::min(40.0, now), 10), whole_steps_above(most, 5)};
}
constexpr Slider kFrontPressure{
    "Tyres and tank", "Front tyre pressure", 82, 0, 0, 5, 0, usual_pressures<&Vehicle::front>, {}, true};
constexpr Slider kRearPressure{
    "Tyres and tank", "Rear tyre pressure", 81, 0, 0, 5, 0, usual_pressures<&Vehicle::rear>, {}, true};

template <auto axle, auto... path>
constexpr auto in_axle() {
  return at<&Scene::vehicle, axle, path...>();
}
template <auto axle, auto... path>
constexpr auto in_tyre() {
  return at<&Scene::vehicle, axle, &Axle::tyre, path...>();
}

template <Axle Vehicle::*axle, Letters side>
std::vector<Field> rows_of() {
  constexpr bool kFront = axle == &Vehicle::front;
  std::vector<Field> rows = {
      of_machine(joined<"vehicle.", side, ".track_m">(), in_axle<axle, &Axle::track>(), 0.2, 8,
                 "between the tyres' mid-planes", within(0.005),
                 FromClass{ScalesBy::size, 0.08, joined<side, "_track_m">()}),
      of_machine(joined<"vehicle.", side, ".narrowest_track_m">(), in_axle<axle, &Axle::narrowest_track>(), 0, 8,
                 "narrowest setting of an adjustable track; 0 = not adjustable, or not known", within(0.005),
                 FromClass{ScalesBy::never, 0, joined<side, "_narrowest_m">()}),
      of_machine(joined<"vehicle.", side, ".widest_track_m">(), in_axle<axle, &Axle::widest_track>(), 0, 8,
                 "widest setting of an adjustable track, for plans; 0 = not adjustable, or not known", within(0.005),
                 FromClass{ScalesBy::never}),
      of_machine(joined<"vehicle.", side, ".dual_spacing_m">(), in_axle<axle, &Axle::dual_spacing>(), 0, 2,
                 "dual wheels: outer tyre's mid-plane beyond the inner one's; 0 = single wheels", within(0.005),
                 FromClass{ScalesBy::size}),
      of_machine(joined<"vehicle.", side, ".wheel_mass_kg">(), in_axle<axle, &Axle::wheel_mass>(), 0, 3000,
                 "tyre and rim, each, without ballast", share(0.1), FromClass{ScalesBy::nothing, 0.15}),
      of_machine(joined<"vehicle.", side, ".spin_inertia_kgm2">(), in_axle<axle, &Axle::spin_inertia>(), 0, 5000,
                 "inertia of one wheel about its axle; 0 = from its mass and radius", idle(),
                 FromClass{ScalesBy::nothing}),
      of_machine(joined<"vehicle.", side, ".capacity_kg">(), in_axle<axle, &Axle::capacity>(), 0, 50000,
                 "what the maker lets this axle carry; 0 = not known", idle(),
                 FromClass{ScalesBy::never, 0, joined<side, "_capacity_kg">()}),
      of_machine(joined<"vehicle.", side, ".rim_capacity_kg">(), in_axle<axle, &Axle::rim_capacity>(), 0, 20000,
                 "what one rim may carry, stamped on it; 0 = not known", idle(), FromClass{ScalesBy::never}),
      text(joined<"vehicle.", side, ".tyre.size">(), in_tyre<axle, &Tyre::size>(), 60,
           "designation as on the sidewall"),
      of_machine(joined<"vehicle.", side, ".tyre.free_radius_m">(), in_tyre<axle, &Tyre::free_radius>(), 0.1, 2,
                 "overall radius, inflated, without load", within(0.005), kTyre,
                 Named{joined<side, " tyre: radius, unloaded">()}),
      // How wide a tyre is and where its bead sits move an answer at rest by the room inside alone.
      of_machine(joined<"vehicle.", side, ".tyre.rim_radius_m">(), in_tyre<axle, &Tyre::rim_radius>(), 0.03, 1.5,
                 "where the bead sits; less than the free radius", idle(), kTyre),
      of_machine(joined<"vehicle.", side, ".tyre.section_width_m">(), in_tyre<axle, &Tyre::section_width>(), 0.01, 2,
                 "inflated width", idle(), kTyre),
      of_machine(joined<"vehicle.", side, ".tyre.cavity_volume_l">(), in_tyre<axle, &Tyre::cavity_volume>(), 0, 5000,
                 "inside volume from a data book; 0 = from the dimensions", moved_elsewhere(), kTyre,
                 Named{joined<side, " tyre: room inside">()}),
      of_machine(joined<"vehicle.", side, ".tyre.pressure_kpa">(), in_tyre<axle, &Tyre::pressure>(), 10, 600,
                 "cold inflation, gauge", share(0.1), kTyre, Named{joined<side, " tyre: pressure">()},
                 kFront ? kFrontPressure : kRearPressure),
      of_machine(joined<"vehicle.", side, ".tyre.vertical_stiffness_kn_per_m">(),
                 in_tyre<axle, &Tyre::vertical_stiffness>(), 1, kRigid, "per tyre, air only, at the pressure given",
                 share(0.15), kTyre, Named{joined<side, " tyre: stiffness, upright">()}),
      of_machine(joined<"vehicle.", side, ".tyre.lateral_stiffness_kn_per_m">(),
                 in_tyre<axle, &Tyre::lateral_stiffness>(), 1, kRigid, "per tyre", share(0.15), kTyre,
                 Named{joined<side, " tyre: stiffness, sideways">()}),
      of_machine(joined<"vehicle.", side, ".tyre.longitudinal_stiffness_kn_per_m">(),
                 in_tyre<axle, &Tyre::longitudinal_stiffness>(), 1, kRigid, "per tyre at its level-ground load", idle(),
                 kTyre),
      of_machine(joined<"vehicle.", side, ".tyre.vertical_damping_kns_per_m">(),
                 in_tyre<axle, &Tyre::vertical_damping>(), 0, 1e4, "per tyre", idle(), kTyre),
      of_machine(joined<"vehicle.", side, ".tyre.lateral_damping_kns_per_m">(), in_tyre<axle, &Tyre::lateral_damping>(),
                 0, 1e4, "per tyre, lengthwise too", idle(), kTyre),
      of_machine(joined<"vehicle.", side, ".tyre.lateral_relaxation_m">(), in_tyre<axle, &Tyre::lateral_relaxation>(),
                 0.01, 10, "rolling distance over which side force builds up", idle(), kTyre),
      // Outwards only and for all tyres at once: move_place_of_load in sim/insight/uncertainty.cpp.
      of_machine(joined<"vehicle.", side, ".tyre.pressure_offset_m">(), in_tyre<axle, &Tyre::pressure_offset>(), 0, 0.5,
                 "how far a leaning tyre's pressure moves to its downhill edge, by the lean alone", idle(), kTyre,
                 Named{joined<side, " tyre: load towards the tyre's edge">()}),
      // 0 to 1: which way it goes in nature is not settled.
      of_machine(joined<"vehicle.", side, ".tyre.side_give_share">(), in_tyre<axle, &Tyre::side_give_share>(), 0, 1,
                 "where the load acts as the tyre bends sideways: 0 under the disc, 1 under the tread", within(0.5),
                 kTyre, Named{joined<side, " tyre: load that moves as the tyre bends sideways">()}),
      flag(joined<"vehicle.", side, ".tyre.rigid">(), in_tyre<axle, &Tyre::rigid>(), "no vertical give (at rest only)"),
      flag(joined<"vehicle.", side, ".tyre.laterally_rigid">(), in_tyre<axle, &Tyre::laterally_rigid>(),
           "no sideways give (at rest only)"),
      text(joined<"vehicle.", side, ".tyre.service">(), in_tyre<axle, &Tyre::service>(), 20,
           "load index and speed symbol from the sidewall, such as 146A8; empty = the mark behind the size, else "
           "typical of the size"),
      of_machine(joined<"vehicle.", side, ".tyre.reference_pressure_kpa">(), in_tyre<axle, &Tyre::reference_pressure>(),
                 0, 1000, "gauge pressure for which the load index is given; 0 = typical of the size", idle(), kTyre),
  };
  if (!kFront) rows.front().slider = kRearTrack;
  return rows;
}

}  // namespace

std::vector<Field> axle_fields() {
  std::vector<Field> rows = rows_of<&Vehicle::front, "front">();
  append(rows, rows_of<&Vehicle::rear, "rear">());
  return rows;
}

}  // namespace sidehill
