// The words of a loader say what it carries its load with, wherever they stand.
#include "render/text/job/rules_report.h"
#include "render/text/motion/run_report.h"
#include "render/text/rest/answer_table.h"
#include "render/text/rest/loader_report.h"
#include "sim/insight/answer.h"
#include "sim/insight/loader_grid.h"
#include "sim/insight/uncertainty.h"
#include "sim/motion/run.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

Scene loaded(std::vector<std::string> more) {
  more.insert(more.begin(), {"terrain.slope_deg=8", "ballast.rear.fill_fraction=0.75"});
  return test_machine("utility_75kw", more);
}

bool names(const Model& model, const std::string& line) {
  return std::ranges::any_of(model.ledger, [&](const LedgerLine& l) { return l.name == line; });
}

}  // namespace

TEST_CASE("a load on the forks is nowhere said to be in the bucket") {
  const Scene scene =
      loaded({"ballast.loader_tool=pallet_forks", "ballast.loader_payload_kg=2500", "ballast.loader_pin_height_m=2.5",
              "programme.duration_s=1", "programme.action=[{at_s=0.5, what=\"loader\", pin_height_m=2.2}]"});
  const Model model = build(scene);
  CHECK(names(model, "pallet forks"));
  CHECK(names(model, "load on the forks"));
  const Answer found = with_reasons(with_uncertainty(answer(scene, 4)));
  const std::string solved = answer_table(found), ballast = ballast_table(scene, model),
                    loader = loader_table(scene, loader_grid(scene, 2, 4));
  for (const std::string& words : {solved, ballast, loader}) {
    CHECK(words.find("in the bucket") == words.npos);
    CHECK(words.find("The bucket") == words.npos);
    CHECK(words.find("on the forks") != words.npos);
  }
  CHECK(ballast.find("load on the forks and on its rope at most") != ballast.npos);
  CHECK(solved.find("The forks are raised above the loader's pivot") != solved.npos);
  CHECK(run_table(found, run(scene)).find("moves the pallet forks to 2.20 m") != std::string::npos);
  REQUIRE(found.breakdown);
  CHECK(std::ranges::any_of(found.breakdown->causes, [](const Cause& c) { return c.name == "load on the forks"; }));
}

TEST_CASE("a bale has intervals of its own, and forks nobody weighed a wide one") {
  const auto doubts = [](const std::vector<std::string>& more) {
    const Scene scene = loaded(more);
    const Model model = build(scene);
    return uncertainty(scene, model, solve_statics(model)).doubts;
  };
  const auto width = [](const std::vector<Doubt>& list, const std::string& key) {
    const auto at = std::ranges::find(list, key, &Doubt::key);
    return at == list.end() ? 0 : at->tolerance;
  };
  const auto bale = doubts({"ballast.loader_tool=bale_spike", "ballast.bale.diameter_m=1.3",
                            "ballast.loader_pin_height_m=0.9", "ballast.bale.density_kg_per_m3=160"});
  CHECK_NEAR(width(bale, "ballast.bale.density_kg_per_m3"), 32, 1e-9);
  CHECK(width(bale, "ballast.bale.diameter_m") > 0);
  CHECK(width(bale, "ballast.bale.length_m") > 0);
  CHECK(width(bale, "ballast.loader_payload_kg") == 0);
  const auto bucket = doubts({"ballast.loader_payload_kg=500"}),
             forks = doubts({"ballast.loader_payload_kg=500", "ballast.loader_tool=pallet_forks"});
  const std::string mass = "vehicle.loader.bucket_mass_kg";
  CHECK(width(bucket, mass) > 0);
  CHECK_NEAR(width(forks, mass), 20 * width(bucket, mass), 1e-9);
  for (const Doubt& doubt : bucket) CHECK_FALSE(doubt.key.starts_with("ballast.bale"));
}
