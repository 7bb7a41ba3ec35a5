// The rows of the job. All of it is chosen or asked for, none of it measured on the machine.
#include "sim/scene/field_rows.h"

namespace sidehill {
namespace {

template <auto member>
constexpr auto in_job() {
  return at<&Scene::job, member>();
}

}  // namespace

std::vector<Field> job_fields() {
  return {
      text("job.name", in_job<&Job::name>(), 120, "what the job is called"),
      choice<&Scene::job, &Job::work>("job.work", keys_of<kWorks>(), "the work the machine is wanted for"),
      choice<&Scene::job, &Job::hitch>("job.hitch", keys_of<kJobHitches>(), "what the implement hangs on"),
      number("job.pull_kn", in_job<&Job::pull>(), 0, 500,
             "pull the implement takes at working speed, along the ground; 0 = not known", chosen()),
      number("job.implement_mass_kg", in_job<&Job::implement_mass>(), 0, 20000,
             "implement on the linkage, or the part of a trailed one that rests on the drawbar; counts where the scene "
             "hangs nothing there",
             chosen()),
      number("job.implement_x_m", in_job<&Job::implement_x>(), -8, 2,
             "centre of mass of a carried implement; behind the rear axle is negative", chosen()),
      number("job.implement_z_m", in_job<&Job::implement_z>(), 0, 5,
             "centre of mass of a carried implement above ground, as carried", chosen()),
      number("job.working_speed_kmh", in_job<&Job::working_speed>(), 0, 40, "speed at work; 0 = not known", chosen()),
      number("job.road_speed_kmh", in_job<&Job::road_speed>(), 0, 80, "speed on the road; 0 = never there", chosen()),
      number("job.working_time_h", in_job<&Job::working_time>(), 0, 8760, "hours of this work a year", chosen()),
      number("job.road_time_h", in_job<&Job::road_time>(), 0, 8760, "hours on the road a year", chosen()),
      choice<&Scene::job, &Job::ground>("job.ground", keys_of<kJobGrounds>(), "the ground of the work"),
      number("job.cone_index_kpa", in_job<&Job::cone_index>(), 0, 5000,
             "strength of the ground measured with a cone; 0 = that of the ground's class", chosen()),
      flag("job.wet", in_job<&Job::wet>(), "the ground is wet"),
      number("job.steepest_deg", in_job<&Job::slope>(), 0, 60, "the steepest slope of the work", chosen()),
      choice<&Scene::job, &Job::headings>("job.headings", keys_of<kJobHeadings>(),
                                          "how the machine goes on that slope"),
      number("job.coldest_c", in_job<&Job::coldest>(), -60, 40, "coldest night the machine stands through", chosen()),
      choice<&Scene::job, &Job::tubes>("job.tubes", keys_of<kYesNoWords>(), "the tyres have tubes"),
      choice<&Scene::job, &Job::liquid_permitted>("job.liquid_permitted", keys_of<kYesNoWords>(),
                                                  "the makers of tyre and rim permit liquid"),
      flag("job.backhoe", in_job<&Job::backhoe>(), "a backhoe is fitted behind"),
      flag("job.air_water_valve", in_job<&Job::air_water_valve>(), "an air-water valve is on hand"),
      flag("job.tubes_on_hand", in_job<&Job::tubes_on_hand>(), "new tubes are on hand"),
      choice<&Scene::job, &Job::filler>("job.filled_by", keys_of<kFillers>(), "who can fill a tyre here"),
  };
}

std::span<const FieldOf<WeightOnHand>> weight_on_hand_fields() {
  static const std::vector<FieldOf<WeightOnHand>> kRows = {
      text("name", at<&WeightOnHand::name>(), 120, "what it is called"),
      choice<&WeightOnHand::place>("place", keys_of<kWeightPlaces>(), "where it may be bolted on"),
      number("mass_kg", at<&WeightOnHand::mass>(), 0.1, 20000, "mass of one piece", chosen(), Needed{}),
      number("pieces", at<&WeightOnHand::pieces>(), 1, 200,
             "how many there are, a whole number; on wheels those of both wheels together", chosen()),
      number("price_eur", at<&WeightOnHand::price>(), 0, 100000, "price of one piece; 0 = not given", chosen()),
  };
  return kRows;
}

std::span<const FieldOf<MediumOnHand>> medium_on_hand_fields() {
  static const std::vector<FieldOf<MediumOnHand>> kRows = {
      row<MediumOnHand>(
          "medium", "", "a liquid that is there",
          ChoiceFieldOf<MediumOnHand>{[](const MediumOnHand& m) { return static_cast<int>(m.medium); },
                                      [](MediumOnHand& m, int i) { m.medium = static_cast<Medium>(i); }, medium_keys()},
          Needed{}),
      number("volume_l", at<&MediumOnHand::volume>(), 0, 100000, "how much; 0 = as much as is wanted", chosen()),
      number("price_low_eur_per_l", at<&MediumOnHand::price, &PriceRange::low>(), 0, 100,
             "lowest price of it as pumped; 0 = not given", chosen()),
      number("price_high_eur_per_l", at<&MediumOnHand::price, &PriceRange::high>(), 0, 100,
             "highest price of it as pumped; 0 = not given", chosen()),
  };
  return kRows;
}

std::span<const FieldOf<WheelsOnHand>> wheels_on_hand_fields() {
  static const std::vector<FieldOf<WheelsOnHand>> kRows = {
      text("name", at<&WheelsOnHand::name>(), 120, "what the pair of wheels is called"),
      choice<&WheelsOnHand::axle>("axle", keys_of<kWheelsAxles>(), "the axle they fit"),
      choice<&WheelsOnHand::fit>("fit", keys_of<kWheelsFits>(),
                                 "beside those on the axle, as dual wheels of the same kind, or instead of them"),
      number("dual_spacing_m", at<&WheelsOnHand::dual_spacing>(), 0, 2,
             "beside: outer tyre's mid-plane beyond the inner one's", chosen()),
      text("tyre_size", at<&WheelsOnHand::size>(), 60, "instead: designation as on the sidewall"),
      text("tyre_service", at<&WheelsOnHand::service>(), 20,
           "instead: load index and speed symbol, such as 146A8; empty = the mark behind the size, else typical"),
      number("wheel_mass_kg", at<&WheelsOnHand::wheel_mass>(), 0, 3000, "instead: tyre and rim, each", chosen()),
      number("rim_capacity_kg", at<&WheelsOnHand::rim_capacity>(), 0, 20000,
             "instead: what one rim may carry, stamped on it; 0 = not known", chosen()),
      number("price_eur", at<&WheelsOnHand::price>(), 0, 100000, "price of the pair; 0 = not given", chosen()),
  };
  return kRows;
}

}  // namespace sidehill
