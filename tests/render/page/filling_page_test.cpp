// The filling sheet on paper: every item is on it, on one page for each axle, and its numbers are those of its JSON.
#include "render/page/filling_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <regex>
#include <set>

#include "render/page/provenance.h"
#include "render/text/fill/axle_filling_json.h"
#include "render/text/fill/axle_filling_words.h"
#include "render/text/words/words.h"
#include "sim/base/text_file.h"
#include "tests/kit/csv.h"
#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"
#include "tests/kit/page_limits.h"
#include "tests/kit/page_numbers.h"
#include "tests/kit/page_words.h"
#include "tests/kit/share.h"

using namespace sidehill;
using namespace sidehill::text;
using namespace sidehill::page;

namespace {

// All words in the order of drawing, on one line.
std::string flat_words(const std::vector<PdfPage>& pages) {
  return std::regex_replace(words_on(pages), std::regex("\\s+"), " ");
}

std::vector<std::string> phrases(const std::string& cell) {
  std::vector<std::string> out(1);
  for (const char c : cell)
    if (c == '|')
      out.emplace_back();
    else
      out.back() += c;
  return out;
}

// Scenes that fill the page in different ways; the last one with everything wrong that can be.
std::vector<Scene> filled_scenes() {
  std::vector<Scene> all = {test_scene("first_slope")};
  for (const char* medium : {"water", "calcium_chloride", "sodium_chloride", "magnesium_chloride", "ethylene_glycol",
                             "propylene_glycol", "methanol", "beet_by_product"})
    all.push_back(test_scene("first_slope", {std::string("ballast.rear.medium=") + medium, "job_file=hill_bale"}));
  all.push_back(test_scene(
      "first_slope", {"ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1250", "job_file=hill_bale"}));
  for (const char* machine : {"compact_26kw", "row_crop_150kw", "forestry_100kw", "orchard_60kw"})
    all.push_back(test_scene("first_slope", {std::string("vehicle_file=") + machine, "ballast.loader_payload_kg=0",
                                             "ballast.rear.fill_fraction=0.3", "ballast.front.fill_fraction=0.5",
                                             "ballast.front.medium=water"}));
  all.push_back(test_scene("first_slope", {"ballast.rear_left.fill_fraction=1", "ballast.rear_left.medium=water",
                                           "ballast.front.fill_fraction=0.9", "ballast.front.medium=ethylene_glycol",
                                           "ballast.rear_weights_kg=900", "job_file=hill_bale", "job.backhoe=true",
                                           "job.coldest_c=-40", "job.road_speed_kmh=40", "job.liquid_permitted=no"}));
  std::vector<Scene> share;  // from the last one backwards, so that it is among them
  for (std::size_t i = 0; i < all.size(); i += kShare) share.push_back(all[all.size() - 1 - i]);
  return share;
}

}  // namespace

TEST_CASE("every item of a filling sheet stands on the page") {
  const auto fillings = axle_fillings(test_scene("first_slope"));
  const std::string words = flat_words(filling_pages(fillings));
  const auto rows = read_csv("filling_sheet_items.csv");
  CHECK(rows.size() == 22);
  for (const CsvRow& row : rows)
    for (const std::string& phrase : phrases(row.at("on_page"))) {
      CAPTURE(row.at("item"));
      CAPTURE(phrase);
      CHECK(phrase.size() > 5);
      CHECK(has(words, phrase));
    }
  for (const std::string& part :
       {std::string(kCautionLine).substr(0, 30), made_by(fillings[0].scene), std::string("Estimates: the litres"),
        std::string("done by"), std::string("date"), std::string("litres by the meter: left"),
        std::string("pressure set"), std::string("torque by the maker's manual, we know no number"),
        std::string("nut torque"), std::string("tightened again"), std::string("Left out: old liquid")}) {
    CAPTURE(part);
    CHECK(has(words, part));
  }
  CHECK(
      has(flat_words(filling_pages(axle_fillings(test_scene("first_slope", {"ballast.rear.medium=ethylene_glycol"})))),
          "Glycol never to ground, drain or septic tank"));
}

TEST_CASE("one page for each axle, A4 and Letter, SI and US, with letters large enough and apart") {
  for (const Scene& scene : filled_scenes()) {
    const auto fillings = axle_fillings(scene);
    CAPTURE(scene.vehicle.name);
    CAPTURE(fillings.back().sheet.request.medium);
    for (const PaperSize size : {PaperSize::a4, PaperSize::letter})
      for (const Units units : {Units::si, Units::us}) {
        const auto pages = filling_pages(fillings, units, size);
        CAPTURE(units == Units::us);
        CAPTURE(size == PaperSize::letter);
        REQUIRE(pages.size() == fillings.size());
        for (std::size_t i = 0; i < pages.size(); ++i) {
          CHECK(pages[i].sheet.width == format_of(size).width);
          CHECK(pages[i].sheet.height == format_of(size).height);
          check_words_apart(pages[i], 30);
          std::string words;
          for (const auto& mark : pages[i].sheet.marks)
            if (const auto* text = std::get_if<PageText>(&mark)) words += text->words + "\n";
          // Every step is there, and none is set smaller than 9.5 pt.
          for (const FillingStep& step : filling_steps(fillings[i], units)) {
            CAPTURE(step.lead);
            double letters = 0;
            for (const auto& mark : pages[i].sheet.marks)
              if (const auto* text = std::get_if<PageText>(&mark); text && text->words == step.lead && text->strong)
                letters = text->size;
            CHECK(letters >= 9.5);
          }
          CHECK(has(std::regex_replace(words, std::regex("\\s+"), " "),
                    "Washington State has the same duties for farms"));
        }
      }
  }
}

TEST_CASE("every number on the page is in the JSON") {
  for (const Scene& scene : filled_scenes()) {
    const auto fillings = axle_fillings(scene);
    CAPTURE(scene.vehicle.name);
    CAPTURE(fillings.back().sheet.request.medium);
    JsonNumbers json;
    collect_numbers(axle_fillings_json(fillings), json);
    std::string words;
    const auto pages = filling_pages(fillings);
    for (const PdfPage& page : pages)
      for (const auto& mark : page.sheet.marks)
        if (const auto* text = std::get_if<PageText>(&mark)) words += text->words + "\n";
    // Not numbers of the filling: how many steps and pages there are, and where the page comes from.
    words.erase(words.find(made_by(scene)), made_by(scene).size());
    if (const std::size_t again = words.find(made_by(scene)); again != words.npos)
      words.erase(again, made_by(scene).size());
    for (const AxleFilling& filling : fillings) {  // nor a designation of a size
      const std::string size = filling.tyre.size + " " + filling.tyre.service;
      for (std::size_t at = words.find(size); at != words.npos; at = words.find(size)) words.erase(at, size.size());
    }
    const double steps = static_cast<double>(filling_steps(fillings[0]).size());
    for (const double number : numbers_in(words)) {
      if (number == std::floor(number) && number <= steps) continue;
      CAPTURE(number);
      CHECK(is_in(number, json));
    }
  }
  // The check is able to fail.
  JsonNumbers json;
  collect_numbers(axle_fillings_json(axle_fillings(test_scene("first_slope"))), json);
  CHECK_FALSE(is_in(123456.7, json));
}

TEST_CASE("the big numbers of the page are the JSON's") {
  const auto fillings = axle_fillings(test_scene("first_slope"));
  const auto json = axle_fillings_json(fillings)["axles"][0];
  const std::string words = words_on(filling_pages(fillings));
  const auto of = [&](const char* key) { return json[key].get<double>(); };
  for (const std::string& part :
       {measured(Quantity::volume, of("litres_each") * 1e-3, 0, Units::si),
        fmt::format("estimate: {:.0f} to {:.0f} L", of("litres_each_low"), of("litres_each_high")),
        measured(Quantity::pressure, of("air_kpa") * 1e3, 0, Units::si),
        "A " + measured(Quantity::length, of("level_over_rim_m"), 2, Units::si),
        "B " + measured(Quantity::length, of("level_over_ground_m"), 2, Units::si),
        measured(Quantity::pressure, of("gauge_bottom_kpa") * 1e3, 0, Units::si),
        measured(Quantity::mass, json["fill"]["recipe"]["product_kg"].get<double>(), 0, Units::si) + " + " +
            measured(Quantity::volume, json["fill"]["recipe"]["water_l"].get<double>() * 1e-3, 0, Units::si)}) {
    CAPTURE(part);
    CHECK(has(words, part));
  }
}

TEST_CASE("the worst fact stands first, in the largest letters of the frame") {
  const auto first = [](std::vector<std::string> changes) {
    return filling_facts(axle_fillings(test_scene("first_slope", changes))[0])[0];
  };
  CHECK(has(first({"ballast.rear.medium=water", "job_file=hill_bale"}), "FREEZES SOLID AT -"));
  CHECK(has(first({"job.liquid_permitted=no"}), "LIQUID IS NOT PERMITTED"));
  CHECK(has(first({"ballast.rear.fill_fraction=1", "job.liquid_permitted=yes"}), "TOO FULL"));
  CHECK(has(first({"vehicle.rear.tyre.service=120A8", "ballast.rear.fill_fraction=0.5", "job.liquid_permitted=yes"}),
            "TYRE OVERLOADED"));
  CHECK(has(first({"ballast.rear.medium=own", "ballast.own_medium.density_kg_per_m3=1250", "job.liquid_permitted=yes",
                   "ballast.rear.fill_fraction=0.5"}),
            "NOT KNOWN WHETHER IT FREEZES"));
  const std::vector<std::string> all = filling_facts(
      axle_fillings(test_scene("first_slope", {"ballast.rear_left.fill_fraction=0.4", "job.backhoe=true"}))[0]);
  const auto at = [&](const char* part) {
    return std::ranges::find_if(all, [&](const std::string& words) { return has(words, part); }) - all.begin();
  };
  CHECK(at("A BACKHOE IS FITTED") < at("NOT KNOWN WHETHER LIQUID IS PERMITTED"));
  CHECK(at("NOT KNOWN WHETHER LIQUID IS PERMITTED") < at("LEFT AND RIGHT DIFFER"));
  CHECK(at("LEFT AND RIGHT DIFFER") < static_cast<std::ptrdiff_t>(all.size()));
  // Even with nothing to say against it there is a line.
  const auto good = filling_facts(axle_fillings(test_scene(
      "first_slope", {"job_file=hill_bale", "job.coldest_c=5", "job.liquid_permitted=yes", "job.road_speed_kmh=0",
                      "ballast.rear.fill_fraction=0.3", "ballast.loader_payload_kg=0"}))[0]);
  CHECK(good.size() == 1);
}

TEST_CASE("in US units nothing metric is left on the page, and thousands are set apart") {
  static const std::regex metric("[0-9] ?(kg|kPa|kN|km/h|L|mm|cm|m|bar|°C|K)(?![A-Za-z0-9])");
  for (const Scene& scene : filled_scenes()) {
    const auto fillings = axle_fillings(scene);
    const std::string us = flat_words(filling_pages(fillings, Units::us)), si = flat_words(filling_pages(fillings));
    std::smatch found;
    CHECK_FALSE_MESSAGE(std::regex_search(us, found, metric),
                        found.str() << " in "
                                    << us.substr(found.empty() ? 0
                                                               : static_cast<std::size_t>(std::max<std::ptrdiff_t>(
                                                                     0, found.position(0) - 30)),
                                                 60));
    CHECK(std::regex_search(si, metric));
    CHECK(has(us, " gal"));
  }
}

TEST_CASE("the same filling gives the same bytes") {
  const Folder folder;
  const auto fillings = axle_fillings(test_scene("first_slope"));
  write_filling_sheet(folder / "a.pdf", fillings);
  write_filling_sheet(folder / "b.pdf", fillings);
  const std::string a = read_text(folder / "a.pdf");
  CHECK(a.substr(0, 4) == "%PDF");
  CHECK(a == read_text(folder / "b.pdf"));
}

TEST_CASE("a sheet for tyres that are not empty says first what is in them and what to do with each") {
  auto fillings = axle_fillings(test_scene("first_slope", {"ballast.rear.fill_fraction=0.4"}));
  REQUIRE(fillings.size() == 1);
  const double planned = fillings[0].sheet.jacked.volume;
  TyreHolds full, empty;
  full.fill = fillings[0].scene.ballast.fill[kRearLeft];
  full.volume = 2 * planned;
  fillings[0].today = {full, empty};
  const std::string first = filling_facts(fillings[0])[0];
  CHECK(has(first, "THE TYRES ARE NOT EMPTY"));
  CHECK(has(first, "Left tyre: let " + litres_words(planned, Units::si) + " out, pump in nothing"));
  CHECK(has(first, "Right tyre: pump in " + litres_words(planned, Units::si) + "."));
  const std::string words = flat_words(filling_pages(fillings));
  CHECK_FALSE(has(words, "Pump in each tyre"));
  CHECK(has(words, "In an empty tyre"));
  (*fillings[0].today)[0].fill.medium = Medium::water;
  CHECK(has(filling_facts(fillings[0])[0], "Left tyre: let all"));
  (*fillings[0].today)[0].volume = 0;
  CHECK_FALSE(has(filling_facts(fillings[0])[0], "NOT EMPTY"));
}

TEST_CASE(
    "a sheet says that its filling is not enough for the job's slope, and what else of the machine is overloaded") {
  const auto facts = filling_facts(axle_fillings(test_scene("first_slope", {"job_file=hill_bale"}))[0]);
  CHECK(std::ranges::any_of(facts, [](const std::string& fact) { return has(fact, "THIS FILLING IS NOT ENOUGH"); }));
  const auto front = filling_facts(axle_fillings(test_scene("first_slope", {"vehicle.front.capacity_kg=300"}))[0]);
  CHECK(std::ranges::any_of(front, [](const std::string& fact) { return has(fact, "AXLE OVERLOADED: front axle"); }));
}
