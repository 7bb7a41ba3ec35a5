// How a list of readings is made: a value goes in with its method and with how far off it may be. For the files that
// fill the list (readings*.cpp) alone. Knows no ImGui.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "render/namespaces.h"
#include "render/screen/desk/readings.h"

namespace sidehill::screen {

struct Off {
  std::optional<double> width = {}, low = {}, high = {};  // as in Reading [SI]; `width` alone: alike up and down
  std::string words = {};
  std::string datum = {};  // as in Reading
  double datum_value = 0;
};
Off not_calculated(const std::string& why);  // "Uncertainty not calculated: " and why

struct ReadingList {
  const Known& known;
  std::vector<Reading> all = {};
  std::string group = {};

  // Puts it under the present group. What is not a finite number loses its value.
  void add(Reading reading, Off off = {});
  // Of a value whose interval sim/insight/uncertainty gives, with the `middle` it was worked out from. Where that is
  // not the value itself (bumps are left out, a place is that of level ground) the interval goes along with the value.
  Off off(const std::optional<Interval>& interval, const std::optional<double>& value,
          const std::optional<double>& middle) const;
  // Of a datum somebody put in: the tolerance of the scene or its machine file, else our estimate.
  Off off_of_datum(std::string_view key) const;
  // A sentence on what moves the lift-off most; empty until known.
  std::string most_from() const;
  // The same of another of the angles.
  std::string most_from(std::optional<double> Facts::*angle) const;
};

void add_margins(ReadingList& list);  // what gives way, and when
void add_loads(ReadingList& list);    // wheels, tyres, axles
void add_masses(ReadingList& list);   // place of the weight, masses
void add_room(ReadingList& list);     // energy, time, turning left to going over
void add_ground(ReadingList& list);
void add_why(ReadingList& list);  // causes of the first lift-off

}  // namespace sidehill::screen
