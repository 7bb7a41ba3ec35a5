// What `sidehill fill` answers, against the printed chart, exact rings, hand calculation and common practice.
#include "render/text/fill/fill_json.h"

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include "render/text/fill/fill_table.h"
#include "render/text/machine/lists.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/csv.h"
#include "tests/kit/fills.h"
#include "tests/kit/has.h"
#include "tests/kit/near.h"
#include "vehicles/tyre_library.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

using FillJson = nlohmann::ordered_json;

FillJson answer_to(const FillRequest& request) { return to_json(fill_sheet(request)); }
double number(const FillJson& json, const char* key) { return json.at(key).get<double>(); }

}  // namespace

TEST_CASE("volumes are the printed chart's, at three quarters and up to the valve") {
  // Source: printed US tyre liquid-fill chart, 36 of its sizes; 8 % or half a US gallon.
  int over_25 = 0, at_75 = 0, at_valve = 0;
  for (const CsvRow& row : read_csv("liquid_fill_table.csv")) {
    const double printed = std::stod(row.at("volume_L"));
    if (printed <= 25) continue;
    const double wide = std::max(0.08 * printed, 1.9);
    FillRequest request = request_of(row.at("tyre_size"));
    ++over_25;
    at_valve += std::abs(number(answer_to(request), "volume_l") - printed) <= wide;
    request.fill = 0.75;
    const FillJson json = answer_to(request);
    at_75 += std::abs(number(json, "volume_l") - printed) <= wide;
    CHECK(number(json["uncertainty"], "volume_l") > 0.03 * printed);  // as wide as the chart scatters, at least
  }
  REQUIRE(over_25 >= 30);
  CHECK(at_75 >= 0.9 * over_25);
  CHECK(at_valve >= 0.9 * over_25);
}

TEST_CASE("water up to the valve at the top when nothing else is said") {
  const FillSheet sheet = fill_sheet(request_of("18.4-38"));
  const FillJson json = to_json(sheet);
  CHECK(json["medium"] == "water");
  CHECK(sheet.by_valve);
  // The valve stands in the rim: the surface is the rim's radius, 19 in, over the centre, twice that over its lowest
  // edge, and over the ground as high as rim and tyre together. Tyre: 1755 mm, recalled design value.
  CHECK_NEAR(number(json, "level_m"), 0.4826, 1e-6);
  CHECK_NEAR(number(json, "level_over_rim_m"), 0.9652, 1e-6);
  CHECK_NEAR(number(json, "level_over_ground_m"), 0.4826 + 0.8775, 1e-6);
  CHECK_NEAR(number(json, "valve_clock"), 12, 1e-12);
  CHECK_NEAR(number(json, "volume_l") + number(json, "air_l"), number(json, "cavity_l"), 1e-9);
  // Room from the size, nowhere changed on the way.
  CHECK_NEAR(number(json, "cavity_l"), 1e3 * parse_tyre_size("18.4-38").cavity_volume, 1e-6);
  CHECK(json["cavity_from"] == "designation");
  CHECK_NEAR(number(json, "slush_free_c"), 0, 1e-9);
  CHECK_NEAR(number(json, "solid_c"), 0, 1e-9);
  // Kell 1975: 999.70 kg/m3 at 10 C.
  CHECK_NEAR(number(json, "mass_kg"), 0.99970 * number(json, "volume_l"), 0.01);
  CHECK(json["cautions"].size() >= 4);
}

TEST_CASE("litres, kilograms and gauge by hand") {
  FillRequest request = request_of("18.4-38", "calcium_chloride_3_5");
  request.cavity_l = 500;
  request.fill = 0.5;
  request.pressure_kpa = 100;
  request.temperature_c = 20;
  const FillJson json = answer_to(request);
  CHECK_NEAR(number(json, "cavity_l"), 500, 1e-6);
  CHECK(json["cavity_from"] == "given");
  CHECK_NEAR(number(json, "volume_l"), 250, 1e-6);
  // Published recipe: 3.5 lb/US gal is 1207 kg/m3, slush-free to -23.5 C (density within 0.2 %).
  CHECK_NEAR(number(json, "mass_kg"), 0.250 * 1207, 0.002 * 0.250 * 1207);
  CHECK_NEAR(number(json, "slush_free_c"), -23.5, 0.2);
  CHECK_NEAR(number(json, "level_m"), 0, 1e-6);  // half full: at the centre
  CHECK_NEAR(number(json, "valve_clock"), 9, 1e-4);
  CHECK_NEAR(number(json, "gauge_top_kpa"), 100, 1e-6);
  // Valve at the bottom, 19 in under the surface: density x 9.80665 x 0.4826 m.
  CHECK_NEAR(number(json, "gauge_bottom_kpa") - 100, number(json, "density_kg_per_m3") * 9.80665e-3 * 0.4826, 1e-4);
  CHECK_NEAR(number(json["total"], "pump_time_min"), 250.0 / 30, 1e-6);
  // 3.5 lb of flake on 8.345 lb of water, a US gallon of it: product over water by mass.
  const FillJson& recipe = json["recipe"];
  CHECK_NEAR(number(recipe, "product_kg") / number(recipe, "water_kg"), 3.5 / 8.345, 1e-6);
  CHECK_NEAR(number(recipe, "product_kg") + number(recipe, "water_kg"), number(json, "mass_kg"), 1e-9);
  CHECK_NEAR(number(recipe, "water_l") + number(recipe, "swelling_l"), 250, 1e-9);
}

TEST_CASE("level against the valve's hour is the exact ring's") {
  // Source: exact fills of ring cavities, computed outside this project: level over the rim's radius by the valve's
  // hour.
  for (const CsvRow& row : read_csv("annulus_fill_cg.csv")) {
    const std::string clock = row.at("valve_clock");
    FillRequest request = request_of("480/70R38");
    request.valve_clock = std::stod(clock.substr(0, clock.find_first_of(":/")));
    const FillJson json = answer_to(request);
    CHECK_NEAR(number(json, "level_m") / 0.4826, std::stod(row.at("level_y_over_ri")), 1e-4);
    CHECK_NEAR(std::abs(number(json, "valve_clock") - 6),
               std::abs(*request.valve_clock == 0 ? 6 : *request.valve_clock - 6), 1e-9);
  }
}

TEST_CASE("common practice: a 75 % fill adds 250 to 1400 kg a tyre on the rear of 45 to 250 kW tractors") {
  // Common practice, no source.
  int machines = 0;
  const auto filled = [](const std::string& tyre, const std::string& medium) {
    FillRequest request = request_of(tyre, medium);
    request.fill = 0.75;
    return number(answer_to(request), "mass_kg");
  };
  for (const char* machine : {"two_wheel_45kw", "utility_75kw", "row_crop_150kw", "orchard_60kw", "compact_26kw"}) {
    const Vehicle vehicle = load_vehicle(std::string(machine) + ".toml", SIDEHILL_SOURCE_DIR "/vehicles");
    CAPTURE(machine);
    for (const char* medium : {"water", "calcium_chloride_3_5"}) {
      const double mass = filled(vehicle.rear.tyre.size, medium);
      // A tractor for orchard rows is 60 kW on the tyres of one half as strong: it stays below.
      const bool usual = vehicle.engine_power >= 45e3 && vehicle.name.find("rchard") == std::string::npos;
      CHECK((mass > 250) == usual);
      CHECK(mass < 1400);
      machines += usual;
    }
  }
  CHECK(machines == 6);
  for (const char* tyre : {"16.9R30", "16.9R34", "18.4R30", "18.4R34", "18.4R38", "20.8R38", "20.8R42", "480/70R34",
                           "480/70R38", "520/70R38", "520/85R42", "600/65R38", "650/65R38", "650/65R42", "710/70R42"}) {
    CAPTURE(tyre);
    REQUIRE(find_tyre(tyre) != nullptr);
    CHECK(filled(tyre, "water") > 250);
    CHECK(filled(tyre, "calcium_chloride_5") < 1400);
  }
}

TEST_CASE("every library tyre with every medium answers, in numbers and in words") {
  for (const LibraryTyre& tyre : tyre_library())
    for (const MediumInfo& medium : media()) {
      CAPTURE(tyre.designation);
      CAPTURE(medium.key);
      FillRequest request = request_of(std::string(tyre.designation), std::string(medium.key));
      request.coldest_c = -20;
      const FillSheet sheet = fill_sheet(request);
      const FillJson json = to_json(sheet);
      CHECK(number(json, "volume_l") > 0);
      CHECK(number(json, "mass_kg") > 0);
      CHECK(json["level_m"].is_null() == medium.turns_with_wheel);  // foam has no level
      CHECK(json["slush_free_c"].is_null() == medium.turns_with_wheel);
      CHECK(json["winter_of_all_media"].size() == media().size());
      const std::string text = fill_table(sheet);
      CHECK_FALSE(has(text, "nan"));
      CHECK_FALSE(has(text, "inf "));
      CHECK(has(text, "Cautions\n  ! "));
      CHECK(has(json["cautions"].dump(), "No slope is safe"));
      for (std::size_t at = 0, end; (end = text.find('\n', at)) != text.npos; at = end + 1) CHECK(end - at <= 135);
    }
}

TEST_CASE("nobody knows is null, and so is never") {
  CHECK(answer_to(request_of("18.4-38", "beet_by_product"))["solid_c"].is_null());
  CHECK(answer_to(request_of("18.4-38", "polyurethane"))["valve_clock"].is_null());
  CHECK(answer_to(request_of("460/85R38"))["let_down"].is_null());  // not in the library: no load is known
  CHECK_FALSE(answer_to(request_of("480/70R38"))["let_down"].is_null());
  CHECK(answer_to(request_of("VF480/70R38"))["load_index"].is_null());        // its standard sister carries less
  CHECK(answer_to(request_of("VF480/70R38 155D"))["load_index_kg"] == 3875);  // ISO 4223-1 table
  FillRequest request = request_of("460/85R38");
  request.load_kg = 2500;
  const FillJson json = answer_to(request);
  CHECK(json["let_down"]["load_is"] == "given");
  CHECK(number(json["let_down"], "stiffening") > 1);
  CHECK(number(json["let_down"], "stiffening_uncertainty") > 0);
  CHECK(number(json["let_down"], "level_over_ground_m") < number(json, "level_over_ground_m"));
  CHECK(json["coldest_c"].is_null());
  CHECK(json["winter"].is_null());
}

TEST_CASE("frost stands first among the cautions, and says what would hold") {
  FillRequest request = request_of("18.4-38", "calcium_chloride");
  request.concentration = 0.15;
  request.coldest_c = -25;
  const FillJson json = answer_to(request);
  CHECK(json["winter"]["frost"] == "slushy");
  CHECK(has(json["cautions"][0], "turns to slush"));
  CHECK(json["pressure_at_coldest_kpa"].is_null());
  request.concentration = number(json, "concentration_for_coldest");
  const FillJson held = answer_to(request);
  CHECK(held["winter"]["frost"] == "liquid");
  CHECK_NEAR(number(held, "slush_free_c"), -28, 0.1);  // 3 K in hand
  // Air alone: absolute pressure goes with absolute temperature (ideal gas); liquid that shrinks gives it more room.
  const double dry = (number(held, "pressure_kpa") + 101.325) * 248.15 / 283.15 - 101.325;
  CHECK(number(held, "pressure_at_coldest_kpa") < dry);
  CHECK(number(held, "pressure_at_coldest_kpa") > dry - 15);
  // As much in hand as first ice is in doubt, where that is more than 3 K.
  request = request_of("18.4-38", "calcium_chloride");
  request.coldest_c = -39;
  const FillJson cold = answer_to(request);
  request.concentration = number(cold, "concentration_for_coldest");
  const FillJson firm = answer_to(request);
  CHECK(number(firm["uncertainty"], "slush_free_c") > 3);
  CHECK(-39 - number(firm, "slush_free_c") >= number(firm["uncertainty"], "slush_free_c"));
  CHECK_FALSE(firm["winter"]["doubtful"]);
  CHECK_NEAR(number(cold, "reserve_for_coldest_c"), number(firm["uncertainty"], "slush_free_c"), 0.02);
  // Within the doubt it may freeze, and the first caution says so.
  request = request_of("18.4-38", "magnesium_chloride");
  request.coldest_c = -27;
  const FillJson near = answer_to(request);
  CHECK(near["winter"]["frost"] == "liquid");
  CHECK(has(near["cautions"][0], "may freeze"));
  CHECK_NEAR(number(near["uncertainty"], "density_kg_per_m3"), 0.004 * number(near, "density_kg_per_m3"), 1e-6);
  CHECK(has(fill_table(fill_sheet(request)), "give or take 5."));
  request = request_of("18.4-38");
  request.coldest_c = -1;
  CHECK(has(answer_to(request)["cautions"][0], "freezes solid"));
  CHECK(has(fill_table(fill_sheet(request)), "stays liquid  calcium_chloride_3_5"));
}

TEST_CASE("two tyres are twice one") {
  FillRequest request = request_of("20.8R42", "magnesium_chloride");
  request.eur_per_l = PriceRange{0.5, 0.7};
  const FillJson one = answer_to(request);
  CHECK_FALSE(answer_to(request_of("20.8R42"))["total"].contains("price_low_eur"));
  CHECK_FALSE(has(fill_table(fill_sheet(request_of("20.8R42"))), "EUR"));
  CHECK(has(fill_table(fill_sheet(request)), "EUR, by the price given"));
  request.tyres = 2;
  const FillJson two = answer_to(request);
  CHECK(one["mass_kg"] == two["mass_kg"]);
  CHECK_NEAR(number(two["total"], "mass_kg"), 2 * number(one, "mass_kg"), 1e-9);
  CHECK_NEAR(number(two["recipe"], "product_kg"), 2 * number(one["recipe"], "product_kg"), 1e-9);
  CHECK_NEAR(number(two["total"], "pump_time_min"), 2 * number(one["total"], "pump_time_min"), 1e-9);
  CHECK_NEAR(number(two["total"], "price_high_eur"), 0.7 * 2 * number(one, "volume_l"), 1e-6);
}

TEST_CASE("the sheet's cautions and load are in the JSON") {
  FillRequest request = request_of("18.4-38");
  request.fill = 0.95;
  request.load_kg = 3500;  // load index 146 carries 3000 kg
  const FillJson json = answer_to(request);
  CHECK(json["valve_clock"].is_null());
  CHECK(has(json["cautions"].dump(), "too little air is left"));
  CHECK(has(json["cautions"].dump(), "overloaded"));
  CHECK(json["let_down"]["load_kg"] == 3500);
}

TEST_CASE("any request that is allowed has numbers in its answer, or null") {
  std::mt19937 random(11);
  const auto between = [&](double a, double b) { return std::uniform_real_distribution(a, b)(random); };
  const auto whole = [](const auto& self, const FillJson& json) -> void {
    if (json.is_structured())
      for (const FillJson& part : json) self(self, part);
    if (json.is_number_float()) REQUIRE(std::isfinite(json.get<double>()));
  };
  for (int i = 0; i < 300; ++i) {
    const auto& tyres = tyre_library();
    const MediumInfo& medium = media()[random() % media().size()];
    FillRequest request = request_of(std::string(tyres[random() % tyres.size()].designation), std::string(medium.key));
    request.temperature_c = between(1, 40);
    if (i % 2) request.coldest_c = between(-60, 0);
    if (!medium.turns_with_wheel && i % 3 == 0) request.fill = i % 9 == 0 ? double(i % 2) : between(0, 1);
    if (!medium.turns_with_wheel && i % 3 == 1) request.valve_clock = between(0, 12);
    if (i % 5 == 0) request.cavity_l = between(1, 5000);
    if (i % 4 == 0) request.load_kg = between(1, 20000);
    if (i % 7 == 0) request.pressure_kpa = between(10, 600);
    CAPTURE(request.tyre);
    CAPTURE(request.medium);
    const FillSheet sheet = fill_sheet(request);
    const FillJson json = to_json(sheet);
    whole(whole, json);
    for (const char* key : {"volume_l", "mass_kg", "cavity_l", "air_l", "density_kg_per_m3"})
      REQUIRE(json[key].is_number());
    REQUIRE_FALSE(has(fill_table(sheet), "nan"));
  }
}

TEST_CASE("nothing pumped is nothing, and no surface") {
  FillRequest request = request_of("18.4-38", "calcium_chloride");
  request.fill = 0;
  const FillSheet sheet = fill_sheet(request);
  const FillJson json = to_json(sheet);
  CHECK(json["volume_l"] == 0);
  CHECK(json["mass_kg"] == 0);
  CHECK(json["level_m"].is_null());
  CHECK(json["damage"].empty());
  CHECK(json["gauge_bottom_kpa"] == json["pressure_kpa"]);
  CHECK(has(fill_table(sheet), "stays on air"));
}

TEST_CASE("the lists carry what they promise") {
  const FillJson tyres = tyres_json();
  REQUIRE(tyres.size() == tyre_library().size());
  for (const FillJson& tyre : tyres) {
    CAPTURE(tyre["designation"]);
    FillRequest request = request_of(tyre["designation"]);
    request.fill = 0.75;
    CHECK_NEAR(number(tyre, "water_75_percent_kg"), number(answer_to(request), "mass_kg"), 1e-6);
    CHECK(number(tyre, "load_kg") >= 400);
    CHECK(number(tyre, "speed_kmh") >= 30);
    CHECK(has(tyres_table(), std::string(tyre["designation"])));
  }
  const FillJson list = media_json();
  REQUIRE(list.size() == media().size());
  for (const FillJson& medium : list) {
    CAPTURE(medium["name"]);
    for (const char* key : {"caution", "tube", "corrosion", "toxicity", "spill", "source"})
      CHECK(medium[key].get<std::string>().size() > 3);
    CHECK_FALSE(medium.contains("price_low_eur_per_l"));  // the program knows no price
    CHECK(medium["concentration_min"].is_null() == medium["concentration_max"].is_null());
    CHECK(has(media_table(), std::string(medium["name"])));
  }
}

TEST_CASE("of an own medium the answer says what its sheet says, and what is not known") {
  FillRequest request = request_of("18.4-38", "own");
  request.own.name = "winter filling";
  request.own.density = 1250;
  request.coldest_c = -15;
  const FillSheet open = fill_sheet(request);
  const FillJson json = to_json(open);
  CHECK(json["what"] == "winter filling");
  CHECK(json["winter"]["frost"] == "not_known");
  CHECK(json["winter"]["ice_fraction"].is_null());
  CHECK(json["expansion_known"] == false);
  CHECK(has(json["cautions"][0], "not known"));
  CHECK_NEAR(number(json["uncertainty"], "density_kg_per_m3"), 12.5, 1e-9);
  CHECK(fill_table(open).starts_with("NOT KNOWN WHETHER IT FREEZES AT -15 °C"));
  CHECK(has(fill_table(open), "18.4-38 with winter filling"));
  request.coldest_c.reset();
  CHECK(has(to_json(fill_sheet(request))["cautions"].dump(), "Its first ice is not given"));
  request.own.first_ice = 273.15 - 30;
  request.own.rust = "Rusts slowly.";
  request.own.poison = "Poisonous.";
  request.coldest_c = -15;
  const FillJson known = answer_to(request);
  CHECK(known["winter"]["frost"] == "liquid");
  CHECK(known["corrosion"] == "Rusts slowly.");
  CHECK(known["toxicity"] == "Poisonous.");
  CHECK(has(fill_table(fill_sheet(request)), "how the liquid shrinks is not known"));
  request.coldest_c = -40;
  CHECK(answer_to(request)["winter"]["frost"] == "slushy");
  CHECK(has(fill_table(fill_sheet(request)), "TURNS TO SLUSH"));
  CHECK(has(fill_table(fill_sheet(request)), "it may be solid"));
}
