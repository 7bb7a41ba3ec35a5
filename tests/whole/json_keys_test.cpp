// docs/json.md against what the program prints: every key of `solve --json` is named there, and no key that is not.
#include <doctest/doctest.h>

#include <filesystem>
#include <set>
#include <string>

#include "render/text/fill/axle_filling_json.h"
#include "render/text/fill/fill_json.h"
#include "render/text/fill/media_table.h"
#include "render/text/job/grip_report.h"
#include "render/text/job/rules_report.h"
#include "render/text/job/set_ups_report.h"
#include "render/text/job/soil_report.h"
#include "render/text/motion/cab_card_report.h"
#include "render/text/rest/answer_json.h"
#include "render/text/rest/loader_report.h"
#include "render/text/rest/sensitivity_report.h"
#include "sim/base/text_file.h"
#include "sim/insight/tyre_media.h"
#include "sim/model/model.h"
#include "tests/kit/has.h"
#include "tests/kit/machines.h"

using namespace sidehill;
using namespace sidehill::text;
namespace fs = std::filesystem;

namespace {

using JsonHere = nlohmann::ordered_json;
using KeyPaths = std::set<std::string>;

// "gives_way[].slope_deg": the way to each value, entries of a list without their number.
void add_paths(const JsonHere& json, const std::string& from, KeyPaths& paths) {
  for (const auto& [key, value] : json.items()) {
    const std::string path = json.is_array() ? from + "[]" : from.empty() ? key : from + "." + key;
    if (json.is_object()) paths.insert(path);
    if (value.is_structured()) add_paths(value, path, paths);
  }
}

std::string page_of_json() { return read_text(SIDEHILL_SOURCE_DIR "/docs/json.md"); }

// The keys in the first column of the tables under that heading, up to the next heading of the same rank.
KeyPaths keys_under(const std::string& page, const std::string& heading) {
  const std::size_t from = page.find("\n## " + heading + "\n");
  REQUIRE(from != page.npos);
  const std::string part = page.substr(from + 1, page.find("\n## ", from + 1) - from - 1);
  KeyPaths keys;
  for (std::size_t at = part.find("\n| `"); at != part.npos; at = part.find("\n| `", at + 1)) {
    const std::string cell = part.substr(at + 2, part.find(" |", at + 3) - at - 2);
    for (std::size_t open = cell.find('`'); open != cell.npos;) {
      const std::size_t close = cell.find('`', open + 1);
      const std::string key = cell.substr(open + 1, close - open - 1);
      CAPTURE(key);
      CHECK(keys.insert(key).second);  // each is explained once
      open = cell.find('`', close + 1);
    }
  }
  return keys;
}

void check_same(const KeyPaths& printed, const KeyPaths& named) {
  for (const std::string& key : printed) CHECK_MESSAGE(named.contains(key), key << " is printed, but not named");
  for (const std::string& key : named) CHECK_MESSAGE(printed.contains(key), key << " is named, but never printed");
}

}  // namespace

TEST_CASE("docs/json.md names every key that solve prints for the scenes that come with the program, and no other") {
  KeyPaths printed;
  int scenes = 0;
  for (const char* folder : {"/scenes", "/scenes/validate"})
    for (const auto& entry : fs::directory_iterator(std::string(SIDEHILL_SOURCE_DIR) + folder)) {
      if (entry.path().extension() != ".toml") continue;
      const Scene scene = load_scene(entry.path());
      add_paths(to_json(with_reasons(with_uncertainty(answer(scene, 4)))), "", printed);
      ++scenes;
    }
  CHECK(scenes >= 25);
  const Scene scene = test_scene("first_slope");
  JsonHere more = to_json(answer(scene, 4), true);  // --envelope
  more["sensitivity"] = sensitivity_json(sensitivities(scene));
  add_paths(more, "", printed);
  // Of money only where somebody gave a price.
  CHECK_FALSE(printed.contains("fill_cost_eur"));
  add_paths(to_json(answer(test_scene("first_slope", {"ballast.rear.price_low_eur_per_l=0.2"}), 4)), "", printed);
  CHECK(printed.size() > 100);
  check_same(printed, keys_under(page_of_json(), "solve"));
}

TEST_CASE("docs/json.md names every key that ballast and loader print") {
  const std::string page = page_of_json();
  const Scene scene = test_scene("bucket_up");
  KeyPaths printed;
  add_paths(ballast_json(scene, build(scene)), "", printed);
  add_paths(loader_json(scene, loader_grid(scene, 2)), "", printed);
  CHECK(printed.size() > 20);
  for (const std::string& path : printed) {
    CAPTURE(path);
    CHECK(has(page, "`" + path.substr(path.rfind('.') + 1) + "`"));
  }
}

TEST_CASE("docs/json.md names every key that ballast prints for a job, and compare") {
  const std::string page = page_of_json();
  const Scene scene = test_scene("first_slope", {"job_file=plough_heavy"});
  KeyPaths printed;
  add_paths(ballast_json(scene, build(scene)), "", printed);
  add_paths(set_ups_json(compare_set_ups({{"as it is", scene}, {"nothing", without_ballast(scene)}})), "", printed);
  CHECK(printed.size() > 60);
  // As in `solve`, whose table names them.
  std::erase_if(printed, [](const std::string& path) { return path.starts_with("set_ups[].gives_way[]."); });
  for (const std::string& path : printed) {
    CAPTURE(path);
    CHECK(has(page, "`" + path.substr(path.rfind('.') + 1) + "`"));
  }
}

TEST_CASE("docs/json.md names every key that grip and soil print, and no other") {
  const std::string page = page_of_json();
  GripQuestion grip;
  grip.tyre = TyreShape{.width = 2, .diameter = 1.7, .section_height = 0.4, .deflection = 0.2};
  grip.load = 300e3;
  grip.mobility = 5;
  KeyPaths of_grip, of_soil;
  add_paths(grip_json(grip), "", of_grip);
  check_same(of_grip, keys_under(page, "grip"));
  SoilQuestion soil;
  soil.wheel = {.width = 0.467, .diameter = 1.755, .pressure = 100e3, .recommended = 100e3, .load = 26e3};
  add_paths(soil_json(soil), "", of_soil);
  check_same(of_soil, keys_under(page, "soil"));
}

TEST_CASE("docs/json.md names every key that card prints, and no other") {
  const Scene scene =
      test_scene("bucket_up", {"vehicle.loader.max_pin_height_m=0.25", "vehicle.loader.rated_payload_kg=0",
                               "ballast.loader_pin_height_m=0.2", "ballast.loader_payload_kg=0"});
  KeyPaths printed;
  add_paths(card_json(cab_card(scene), scene, build(scene)), "", printed);
  check_same(printed, keys_under(page_of_json(), "card"));
}

TEST_CASE("docs/json.md names every key of list media --tyre, and no other") {
  MediaRequest request;
  request.tyre = "18.4-38";
  request.coldest_c = -20;
  request.prices["water"] = {0.2, 0.6};
  KeyPaths printed;
  add_paths(tyre_media_json(media_in_tyre(request)), "", printed);
  check_same(printed, keys_under(page_of_json(), "list media --tyre"));
}

TEST_CASE("docs/json.md names every key that fill prints") {
  FillRequest request;
  request.tyre = "18.4-38";
  request.medium = "calcium_chloride";
  request.coldest_c = -20;
  request.eur_per_l = PriceRange{0.2, 0.6};
  const std::string page = page_of_json();
  const JsonHere json = to_json(fill_sheet(request));
  for (const auto& entry : json.items()) {
    CAPTURE(entry.key());
    CHECK(has(page, "`" + entry.key() + "`"));
  }
}

TEST_CASE("docs/json.md names every key that sheet prints, and no other") {
  KeyPaths printed;
  add_paths(axle_fillings_json(axle_fillings(test_scene("first_slope", {"job_file=hill_bale"}))), "", printed);
  // As in `fill`, whose row names them.
  std::erase_if(printed, [](const std::string& path) { return path.starts_with("axles[].fill."); });
  CHECK(printed.size() > 30);
  check_same(printed, keys_under(page_of_json(), "sheet"));
}
