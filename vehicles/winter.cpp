// Frost against first ice and last liquid (see winter.h).
#include "vehicles/winter.h"

#include <cmath>

namespace sidehill {
namespace {

constexpr double kLumpShare = 0.7;  // ice that no longer flows [-]; our estimate

std::string_view meaning_of(const MediumInfo& medium, Frost frost) {
  if (medium.turns_with_wheel) return "Nothing in it freezes; it turns with the wheel in any weather.";
  switch (frost) {
    case Frost::liquid:
      return "Stays liquid and hangs in the bottom of the tyre.";
    case Frost::slushy:
      return "Ice crystals in liquid: it still gives way, but it is dragged along as the wheel turns and must not be "
             "pumped; the valve may block.";
    case Frost::solid:
      return medium.medium == Medium::water
                 ? "A lump of ice, frozen where it lay: it turns with the wheel and lifts its weight to the top once a "
                   "turn, hammers at speed, can burst tube or rim as it grows by a tenth, and cuts the casing. Do not "
                   "drive; let it thaw."
                 : "A hard lump, frozen where it lay: it turns with the wheel and lifts its weight to the top once a "
                   "turn, "
                   "and hammers at speed. Do not drive; let it thaw.";
    case Frost::not_known:
      return "Nothing says when it freezes. Take it that it may freeze hard as water does, until its seller gives the "
             "temperature of its first ice.";
  }
  return {};
}

}  // namespace

WinterAnswer winter(Medium medium, double concentration, double coldest) {
  return winter(Mix{medium, concentration, nullptr}, coldest);
}

WinterAnswer winter(const Mix& mix, double coldest) {
  const FreezingPoints points = freezing_points(mix);
  WinterAnswer answer;
  answer.medium = mix.medium;
  answer.mass_fraction = strength(mix.medium, mix.concentration);
  answer.ice = ice_share(mix, coldest);
  if (points.slush_free) {
    answer.reserve = coldest - *points.slush_free;
    answer.doubtful = std::abs(answer.reserve) <= points.slush_free_uncertainty;
    answer.may_be_solid = points.solid && std::abs(coldest - *points.solid) <= points.solid_uncertainty;
    if (answer.may_be_solid) answer.doubtful = true;
    if (answer.reserve < 0) {
      answer.frost = Frost::slushy;
      if (mix.medium == Medium::own && !points.solid) answer.may_be_solid = true;  // nothing says that it is not
    }
    if ((points.solid && coldest < *points.solid) || answer.ice >= kLumpShare) answer.frost = Frost::solid;
  } else if (!points.known) {
    answer.frost = points.solid && coldest < *points.solid ? Frost::solid : Frost::not_known;
    answer.doubtful = true;
    answer.may_be_solid = true;
  }
  answer.meaning = meaning_of(info(mix.medium), answer.frost);
  return answer;
}

std::vector<WinterAnswer> winter_of_all(double coldest) {
  std::vector<WinterAnswer> answers;
  for (const MediumInfo& medium : media()) answers.push_back(winter(medium.medium, 0, coldest));
  return answers;
}

}  // namespace sidehill
