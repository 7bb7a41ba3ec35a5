// The command line of `sidehill fill`: flags into a request. Reads nothing else, prints nothing.
#include <fmt/format.h>

#include <string>

#include "render/text/fill/fill_json.h"
#include "render/text/fill/fill_table.h"
#include "render/verbs/medium_options.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/scene/scene.h"

namespace sidehill {
namespace {

struct FillCommand {
  bool json = false;
  Units units = Units::si;
  FillRequest request;
  OwnOptions own;
  std::string valve_clock, eur_per_l;  // as typed: "10:30", "0.2:0.6"
};

constexpr const char* kFillExamples = R"(
Examples
  sidehill fill 18.4-38                                    water up to the valve at the top
  sidehill fill 18.4-38 --medium calcium_chloride_3_5 --coldest-c -20 --tyres 2
  sidehill fill "480/70R38 145D" --medium magnesium_chloride --concentration 0.18 --fill 0.5
  sidehill fill 18.4-38 --medium calcium_chloride --frost-to-c -24
  sidehill fill 18.4-38 --medium own --own-density-kg-per-m3 1250 --own-first-ice-c -30 --coldest-c -20
  sidehill fill 7.50-16 --valve-clock 9 --load-kg 600 --pressure-kpa 220

The JSON describes an upright wheel, jacked up: level_m is the surface over the wheel's centre, level_over_rim_m over
the rim's lowest edge, level_over_ground_m over the ground, wetted_height_m over the lowest point inside. null is
"never" or "not known". `recipe` and `total` are for all tyres, everything else for one.
`sidehill list tyres` and `sidehill list media` list all sizes and liquids.)";

double clock_of(const std::string& typed) {
  const std::size_t colon = typed.find(':');
  const auto hour = typed_number(std::string_view(typed).substr(0, colon));
  const auto minute =
      colon == typed.npos ? std::optional(0.0) : typed_number(std::string_view(typed).substr(colon + 1));
  if (hour && minute && *minute >= 0 && *minute < 60) return *hour + *minute / 60;
  throw InputError(
      fmt::format("fill: --valve-clock \"{}\": an hour from 0 to 12, as 12, 9.5 or 9:30", shown_typed(typed)));
}

PriceRange price_typed(const std::string& typed) {
  if (const auto price = typed_price(typed)) return *price;
  throw InputError(
      fmt::format("fill: --price-eur-per-l \"{}\": LOW:HIGH in EUR per litre as pumped, as 0.2:0.6, or one price",
                  shown_typed(typed)));
}

void add_fill_flags(CLI::App& sub, FillCommand& command) {
  FillRequest& r = command.request;
  sub.footer(kFillExamples);
  sub.add_option("tyre", r.tyre, "size as on the sidewall: 18.4-38, 480/70R38, 23x8.50-12")->required();
  sub.add_option("--medium", r.medium, "a name from `sidehill list media`, or own; default water");
  sub.add_option("--concentration", r.concentration, "mass of what is dissolved over mass of the solution, 0 to 1");
  sub.add_option("--frost-to-c", r.frost_to_c,
                 "instead of --concentration: the weakest strength that is free of ice down to this");
  sub.add_option("--temperature-c", r.temperature_c, "temperature of liquid and air while filling; default 10");
  sub.add_option("--coldest-c", r.coldest_c,
                 "coldest winter temperature: shows what frost does and which mixes stay liquid");
  sub.add_option("--fill", r.fill, "share of the inside to fill, 0 to 1; default: up to the valve");
  sub.add_option("--valve-clock", command.valve_clock,
                 "where the valve stands, as on a clock: fill until liquid runs out of it; default 12");
  sub.add_option("--pressure-kpa", r.pressure_kpa, "cold gauge pressure of the air; default: usual for the size");
  sub.add_option("--load-kg", r.load_kg, "load of this tyre on the ground, with its filling");
  sub.add_option("--flow-l-per-min", r.flow_l_per_min, "flow of the pump; default 30");
  sub.add_option("--cavity-l", r.cavity_l, "volume inside from a data book; default: from the size");
  sub.add_option("--price-eur-per-l", command.eur_per_l,
                 "price LOW:HIGH of the liquid as pumped: says what the filling costs");
  sub.add_option("--tyres", r.tyres, "how many tyres you fill; default 1");
  take_own_medium(sub, command.own);
  sub.add_option("--product", r.product, "the form you buy: flake_77, pellet_94, neat, ...");
}

FillRequest request_of(const FillCommand& command) {
  FillRequest request = command.request;
  if (!command.valve_clock.empty()) request.valve_clock = clock_of(command.valve_clock);
  if (!command.eur_per_l.empty()) request.eur_per_l = price_typed(command.eur_per_l);
  request.own = own_medium_of(command.own, "fill");
  if (command.own.any() && request.medium != "own")
    throw InputError("fill: --own-... describe a medium of your own: give --medium own as well");
  return request;
}

}  // namespace

VerbAction prepare_fill(CLI::App& sub) {
  const auto asked = std::make_shared<FillCommand>();
  add_fill_flags(sub, *asked);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  return [asked] {
    const FillSheet sheet = fill_sheet(request_of(*asked));
    asked->json ? print(to_json(sheet)) : fmt::print("{}", fill_table(sheet, asked->units));
    return kAnswered;
  };
}

}  // namespace sidehill
