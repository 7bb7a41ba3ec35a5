// The filling sheet of an axle in words: what is wrong with it, the worst first, and the steps of the work, one after
// the other. Knows no page, no window, no file.
#pragma once
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/text/words/units.h"
#include "sim/insight/fill_of_scene.h"

namespace sidehill::text {

// "Rear tyres", "Front tyres".
std::string axle_title(const AxleFilling& filling);

struct FillingFact {
  int rank = 0;        // the worst has the lowest, also among the facts of both axles
  bool grave = false;  // do not drive, do not fill, over a limit, or it may be so
  std::string words;   // sentences
};

// What is wrong with an axle's filling, the worst first; of an axle without liquid what its tyres, rims and axles carry
// too much. May be empty.
std::vector<FillingFact> ranked_facts(const AxleFilling& filling, Units units = Units::si);

// The words of these: sentences, the worst first; what is not known is among them. Never empty: of a filling against
// which nothing is known it says so.
std::vector<std::string> filling_facts(const AxleFilling& filling, Units units = Units::si);

// Nothing is known to be in its tyres: the litres of the sheet are what to pump in.
bool filling_from_empty(const AxleFilling& filling);

struct FillingStep {
  std::string lead;   // a few words
  std::string words;  // sentences
};

// The work in the order in which it is done, raising the wheel first, the law last.
std::vector<FillingStep> filling_steps(const AxleFilling& filling, Units units = Units::si);

// What to stir together for both tyres, in which order, and with what care.
std::string mix_words(const AxleFilling& filling, Units units);
// How to take the filling out again, and where the old liquid goes.
std::string undo_words(const AxleFilling& filling);

// "620 L": more digits than fit a small tyre would promise too much.
std::string litres_words(double cubic_metres, Units units);
std::string air_words(double pressure, Units units);  // "120 kPa (1.2 bar)", "17 psi"
std::string frost_words(double kelvin, Units units);  // "-21 °C": whole, towards the warm side
std::string valve_words(const AxleFilling& filling);  // "12:00", "10:20 or 1:40"; "no help" where it cannot say
std::string litres_range(const FillSheet& sheet, double tyres,
                         Units units);      // "557 to 683 L", nineteen times in twenty
std::string minutes_words(double seconds);  // "21 min"
// "-21 °C" of first ice at the warm end of its doubt; "not known"; "none" where nothing in it freezes.
std::string frost_limit_words(const FillSheet& sheet, Units units);

}  // namespace sidehill::text
