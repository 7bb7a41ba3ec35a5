// The job in files: read, written, refused.
#include "sim/scene/job.h"

#include <algorithm>

#include "sim/base/errors.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

std::string refusal(const std::string& text) {
  try {
    parse_scene("vehicle_file = \"utility_75kw\"\n" + text, std::string(SIDEHILL_SOURCE_DIR) + "/scenes/x.toml");
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

bool has(const std::string& text, const char* part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("six jobs come with the program, each of another work") {
  const auto files = job_files();
  CHECK(files.size() == 6);
  std::vector<Work> works;
  for (const auto& file : files) {
    const Job job = load_job(file.filename().string(), file.parent_path());
    CHECK_FALSE(job.name.empty());
    works.push_back(job.work);
  }
  std::ranges::sort(works);
  CHECK(std::ranges::adjacent_find(works) == works.end());
}

TEST_CASE("a job comes from its file, the scene changes it, and all of it comes back as written") {
  const Scene scene = parse_scene(
      "vehicle_file = \"utility_75kw\"\njob_file = \"hill_bale\"\n[job]\nsteepest_deg = 9\n[terrain]\nslope_deg = 3\n",
      std::string(SIDEHILL_SOURCE_DIR) + "/scenes/x.toml");
  CHECK(scene.job_file == "hill_bale");
  CHECK(scene.job.work == Work::loader);
  CHECK_NEAR(scene.job.slope, 9 * kDegree, 1e-12);
  CHECK_NEAR(scene.job.working_time, 150 * 3600.0, 1e-6);
  CHECK_NEAR(scene.job.coldest, 258.15, 1e-9);
  REQUIRE(scene.job.weights.size() == 2);
  CHECK(scene.job.weights[0].place == WeightPlace::rear_wheels);
  REQUIRE(scene.job.media.size() == 2);
  const Scene back = parse_scene(write_scene(scene), "back.toml");
  CHECK(write_scene(back).substr(write_scene(back).find("[job]")) ==
        write_scene(scene).substr(write_scene(scene).find("[job]")));
  CHECK(test_scene("first_slope", {"job_file=mow_steep", "job.wet=true"}).job.wet);
}

TEST_CASE("a job that cannot be is refused with its key and what is allowed") {
  CHECK(has(refusal("[job]\nworking_time_h = -1\n"), "job.working_time_h: -1 is out of range, allowed 0 to 8760 h"));
  CHECK(has(refusal("[job]\nsteepest_deg = 70\n"), "job.steepest_deg: 70 is out of range, allowed 0 to 60 deg"));
  CHECK(has(refusal("[job]\nwork = \"ploughing\"\n"), "\"ploughing\" is not known, allowed one of none, heavy_pull"));
  CHECK(has(refusal("[job]\npull_kn = 5\n"), "job.pull_kn: 5 pulls on nothing"));
  CHECK(has(refusal("[job]\nhitch = \"none\"\nimplement_mass_kg = 5\n"), "job.implement_mass_kg: 5 hangs on nothing"));
  CHECK(has(refusal("[job]\nworking_time_h = 8000\nroad_time_h = 1000\n"), "allowed 8760 h together"));
  CHECK(has(refusal("[[job.weight]]\nmass_kg = 20\npieces = 1.5\n"), "1.5 is no whole number"));
  CHECK(has(refusal("[[job.weight]]\nname = \"disc\"\n"), "job.weight[].mass_kg"));
  CHECK(has(refusal("[[job.medium]]\nmedium = \"milk\"\n"), "\"milk\" is not known"));
  CHECK(has(refusal("[[job.weight]]\nmass_kg = 20\nprice_eur = -1\n"), "price_eur: -1 is out of range"));
  const std::string instead = "[[job.wheels]]\nfit = \"instead\"\n";
  CHECK(has(refusal("[[job.wheels]]\nfit = \"beside\"\n"), "job.wheels[].dual_spacing_m: 0 leaves no room"));
  CHECK(has(refusal("[[job.wheels]]\ndual_spacing_m = 0.6\nwheel_mass_kg = 9\n"), "job.wheels[].fit: beside"));
  CHECK(has(refusal(instead + "wheel_mass_kg = 200\ntyre_size = \"round\"\n"),
            "job.wheels[].tyre_size: tyre size \"round\""));
  CHECK(has(refusal(instead + "tyre_size = \"18.4R38\"\n"), "job.wheels[].wheel_mass_kg: 0 weighs nothing"));
  CHECK(has(refusal(instead + "wheel_mass_kg = 200\ntyre_size = \"18.4R38\"\ntyre_service = \"x\"\n"),
            "job.wheels[].tyre_service"));
  CHECK(
      has(refusal("job_file = \"no_such_job\"\n"), "there is no job \"no_such_job\" (`sidehill list jobs` gives all)"));
  CHECK(has(refusal("[job]\ncone_index_kpa = 9000\n"), "allowed 0 to 5000 kPa"));
  CHECK(has(refusal("[job]\nworkk = \"loader\"\n"), "did you mean job.work?"));
}

TEST_CASE("a job without a machine says what is missing") {
  try {
    load_scene(std::string(SIDEHILL_SOURCE_DIR) + "/scenes/jobs/mow_steep.toml");
    FAIL("no error");
  } catch (const InputError& error) {
    CHECK(has(error.what(), "this is a job, which needs a machine"));
    CHECK(has(error.what(), "job_file=mow_steep"));
  }
}
