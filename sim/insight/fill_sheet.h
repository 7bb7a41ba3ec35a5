// The answer to "what do I pump into this tyre, and what does it do": everything a filling is asked for, computed from
// a request in people's units. The words are render/text/fill's. Knows no scene, no machine, no terminal.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "vehicles/cavity.h"
#include "vehicles/filling.h"
#include "vehicles/liquid.h"
#include "vehicles/recipe.h"
#include "vehicles/tyre_size.h"
#include "vehicles/winter.h"

namespace sidehill {

// As typed, in people's units; nothing = the default.
struct FillRequest {
  std::string tyre;              // designation: "18.4-38", "480/70R38 145D"
  std::string medium = "water";  // a key of `list media`, "own", or as people say it: "calcium chloride, to -24 C"
  OwnMedium own;                 // what "own" is; a density given is a medium of one's own
  std::optional<double> concentration;  // what is dissolved, over solution by mass [-]; default the usual strength
  std::optional<double> frost_to_c;     // the weakest strength that is free of ice to there [C]
  double temperature_c = 10;            // of liquid and air while filling [C]
  std::optional<double> coldest_c;      // of the winter to come [C]
  std::optional<double> fill;           // liquid over cavity [-]; default: up to the valve
  std::optional<double> valve_clock;    // where the valve stands while filling, 12 = top; default 12
  std::optional<double> pressure_kpa;   // cold gauge, air [kPa]; default typical of the size
  std::optional<double> load_kg;        // of the tyre on the ground, filling included [kg]
  double flow_l_per_min = 30;           // of the pump [L/min]
  std::optional<double> cavity_l;       // inside volume from a data book [L]; default from the size
  std::optional<Tyre> of_machine;       // a machine's own tyre: its measures and its room count, not the size's
  std::optional<PriceRange> eur_per_l;  // as pumped; nothing = not given
  std::string product;                  // how the stuff is bought, a key of vehicles/recipe; empty = the usual one
  int tyres = 1;                        // how many are filled so
};

enum class LoadSource { none, given, load_index };  // load_index: brought to the pressure by the rule of thumb

// The tyre let down on the ground.
struct LetDown {
  LoadSource source = LoadSource::none;
  double load = 0;  // [kg]
  LoadedFill level;
  double stiffening = 1;  // vertical stiffness over that on air alone [-]
  double stiffening_uncertainty = 0;
};

// SI, temperatures in kelvin; all of one tyre unless said.
struct FillSheet {
  FillRequest request;
  TyreSize size;
  Tyre tyre;  // dimensions and stiffness, from library or size
  Cavity cavity;
  Medium medium = Medium::water;
  double mass_fraction = 0;                             // strength that counts [-]
  bool by_valve = false;                                // filled up to the valve; else by the fraction asked for
  double fill_fraction = 0;                             // [-]
  double volume_uncertainty = 0, mass_uncertainty = 0;  // one standard deviation over the value [-]
  double density = 0;                                   // at filling temperature [kg/m3]
  double density_uncertainty = 0;                       // one standard deviation over it [-]
  FillAnswer jacked;
  std::optional<ValveClock> valve;         // nothing for a cured filling
  double pressure = 0;                     // of the air, gauge [Pa]
  bool pressure_typical = true;            // not asked for: the library's for the size
  double gauge_top = 0, gauge_bottom = 0;  // what a gauge shows, valve at 12 and at 6, jacked [Pa]
  double pump_time = 0;                    // all tyres [s]
  std::optional<LetDown> let_down;         // nothing where no load is known, or for a cured filling
  std::optional<Service> service;          // from the sidewall, or typical of the size
  bool service_typical = false;
  FreezingPoints freezing;
  std::optional<WinterAnswer> winter;       // at the coldest asked for
  std::vector<WinterAnswer> winter_of_all;  // every medium then
  std::optional<double> pressure_cold;      // gauge at the coldest [Pa]; nothing if not asked for or frozen
  std::optional<double> strength_for_cold;  // that would stay free of ice with `ice_reserve` in hand [-]; if this one
                                            // does not
  double ice_reserve = 0;                   // 3 K, or the doubt about first ice at that strength if it is wider [K]
  const Product* product = nullptr;         // nothing to mix
  Recipe recipe;                            // for all tyres
  std::optional<PriceRange> cost;           // of all tyres [EUR]; nothing where no price was given
  std::optional<double> flat_sink;          // at most, of the axle's end if a puncture empties the tyre [m]
  bool brimful = false;                     // next to no air is left in it
  bool above_valve = false;                 // liquid stands over the valve even at the top
  bool too_full = false;                    // either of them: too little air is left in it
  bool over_three_quarters = false;         // more than the trade's rule, whether or not too full
  bool overloaded = false;                  // the load given is more than the tyre's index
};

// What the sheet is of; valid as long as the sheet.
inline Mix mix_of(const FillSheet& s) { return {s.medium, s.request.concentration.value_or(0), &s.request.own}; }

// Of the filling of one tyre [kg].
inline double mass_of(const FillSheet& s) { return s.jacked.volume * s.density; }

// The medium that is meant, by its key or nearly. Throws InputError that names `what`, an option, and the keys allowed.
Medium medium_of(const std::string& typed, const char* what = "fill: --medium");

// Throws InputError if these numbers of a data sheet cannot be; `verb` is what messages begin with.
void check_own(const OwnMedium& own, const std::string& verb);

// Throws InputError with one line: a size that is none, a medium or product that is none, a number out of its range.
FillSheet fill_sheet(const FillRequest& request);

}  // namespace sidehill
