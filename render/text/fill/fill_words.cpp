#include "render/text/fill/fill_words.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "render/text/words/words.h"
#include "sim/base/constants.h"
#include "vehicles/load_index.h"

namespace sidehill::text {

std::vector<std::string> fill_cautions(const FillSheet& s) {
  std::vector<std::string> out;
  const MediumInfo& what = info(s.medium);
  const auto say = [&out](std::string line) { out.push_back(std::move(line)); };
  if (s.winter && s.winter->frost == Frost::not_known)
    say(fmt::format("Whether this filling freezes at {:g} °C is not known. {}", *s.request.coldest_c,
                    s.winter->meaning));
  else if (s.winter && s.winter->frost != Frost::liquid)
    say(fmt::format("At {:g} °C this filling {}. {}", *s.request.coldest_c,
                    s.winter->frost == Frost::solid ? "freezes solid" : "turns to slush", s.winter->meaning));
  else if (s.winter && s.winter->doubtful)
    say(
        fmt::format("At {:g} °C this filling may freeze: its first ice is at {:.1f} °C, give or take {:.1f} K. Mix it "
                    "stronger or take another.",
                    *s.request.coldest_c, *s.freezing.slush_free - kZeroCelsius, s.freezing.slush_free_uncertainty));
  if (s.brimful)
    say("Filled to the brim: next to no air is left in it. Such a tyre has no spring, a little warmth raises its "
        "pressure steeply, and it can burst. Do not drive on it: let liquid out down to the valve at the top.");
  else if (s.above_valve)
    say("Above the valve even at the top: too little air is left, the tyre becomes hard and one warm day raises its "
        "pressure steeply. Let liquid out down to the valve.");
  say(std::string(what.caution));
  if (s.medium == Medium::own) {
    if (!s.freezing.known && !s.winter)
      say("Its first ice is not given: whether frost harms it is not known. Take it that it may freeze hard as water "
          "does.");
    say(
        fmt::format("How it expands is not known: its density is taken as at {:g} °C whatever the temperature, give or "
                    "take 2 %.",
                    s.request.own.density_temperature - kZeroCelsius));
  }
  if (s.overloaded)
    say(fmt::format("{:.0f} kg is more than the {:.0f} kg of load index {}: this tyre is overloaded.",
                    *s.request.load_kg, load_index_mass(s.service->load_index), s.service->load_index));
  if (what.turns_with_wheel) {
    say("Foam cannot be pumped out again: weigh what it adds to the axle before it is ordered, against the axle's and "
        "the tyre's limit.");
    out.emplace_back(kCautionLine);
    return out;
  }
  if (!s.above_valve && s.over_three_quarters)
    say("The trade calls valve level \"75 %\"; where this tyre's maker allows 75 % of its room and no more, or forbids "
        "liquid (many radials), the maker's word counts.");
  say("Never fill up: an air cushion of about a quarter of the room (what a valve at the top leaves) must stay, or the "
      "tyre has no spring and can burst.");
  say("Jack the axle until the tyre is clear and round, stand it on supports and chock the other wheels; liquid makes "
      "a wheel too heavy to catch.");
  say("Let the air out as liquid goes in, with an air-and-water valve fitting; set the air afterwards, with the valve "
      "at the top, by a gauge made for liquid.");
  say("The added weight counts against tyre, wheel and axle, and on front tyres the steering.");
  out.emplace_back(kCautionLine);
  return out;
}

std::string clock_words(double hour) {
  const long minutes = std::lround(hour * 60);
  const long on_dial = minutes % 720 < 60 ? minutes % 720 + 720 : minutes % 720;
  return fmt::format("{}:{:02}", on_dial / 60, on_dial % 60);
}

const char* frost_key(Frost frost) {
  switch (frost) {
    case Frost::liquid:
      return "liquid";
    case Frost::slushy:
      return "slushy";
    case Frost::solid:
      return "solid";
    case Frost::not_known:
      return "not_known";
  }
  return "not_known";
}

}  // namespace sidehill::text
