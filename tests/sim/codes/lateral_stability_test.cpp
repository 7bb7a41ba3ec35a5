// The lateral stability test by calculation.
#include "sim/codes/lateral_stability.h"

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "sim/base/constants.h"
#include "tests/kit/near.h"

using namespace sidehill;

namespace {

nlohmann::json read_json(const char* name) {
  std::ifstream file(std::string(SIDEHILL_SOURCE_DIR "/tests/data/") + name);
  REQUIRE(file.good());
  return nlohmann::json::parse(file);
}

RollingTractor example(const std::string& name) {
  const nlohmann::json examples = read_json("rolling_examples.json");
  for (const auto& sample : examples.at("samples")) {
    if (sample.at("example") != name) continue;
    const auto& in = sample.at("input");
    RollingTractor t;
    t.H1 = in.at("H1"), t.L3 = in.at("L3"), t.L2 = in.at("L2"), t.H0 = in.at("H0"), t.S = in.at("S");
    t.D0 = in.at("D0"), t.B0 = in.at("B0"), t.B6 = in.at("B6"), t.B7 = in.at("B7"), t.D3 = in.at("D3");
    t.D2 = in.at("D2"), t.H6 = in.at("H6"), t.L6 = in.at("L6"), t.H7 = in.at("H7"), t.L7 = in.at("L7");
    t.Mc = in.at("Mc"), t.Q = in.at("Q");
    return t;
  }
  FAIL("no example " << name);
  return {};
}

}  // namespace

TEST_CASE("tilt of the published examples' tractors") {
  // Derived in closed form from the inputs of Regulation (EU) No 1322/2014, Annex IX, B4, examples 6.1 and 6.3.
  int rows = 0;
  const nlohmann::json tilts = read_json("rolling_examples_tilt.json");
  for (const auto& row : tilts.at("rows")) {
    const RollingTractor t = example(row.at("example"));
    const LateralStability s = lateral_stability(t);
    REQUIRE(s.table_tip_three_point);
    CHECK_NEAR(*s.table_tip_three_point / kDegree, row.at("table_tip_3pt_deg").get<double>(), 0.01);
    CHECK_NEAR(s.table_tip_rigid / kDegree, row.at("rigid_deg").get<double>(), 0.01);
    CHECK_NEAR(std::hypot(s.height_on_stop, s.lateral_on_stop), row.at("W0_m").get<double>(), 1e-5);
    ++rows;
  }
  CHECK(rows == 2);
}

TEST_CASE("turning vectors and the published plane geometry agree on the centre of gravity at the stop") {
  RollingTractor t = example("6.1");
  for (double swing = 0; swing < 0.35; swing += 0.05) {
    t.D0 = swing;
    const LateralStability s = lateral_stability(t);
    REQUIRE(s.stop_reached);
    CHECK_NEAR(std::hypot(s.height_on_stop, s.lateral_on_stop), rolling_test(t).geometry.W0, 1e-12);
  }
}

TEST_CASE("a front axle without swing is a rigid tractor") {
  RollingTractor t = example("6.1");
  t.D0 = 0;
  const LateralStability s = lateral_stability(t);
  CHECK(s.stop_reached);
  CHECK_NEAR(s.balance_tilt, s.table_tip_rigid, 1e-12);
}

TEST_CASE("with swing enough it balances about the pivot line, and more swing changes nothing") {
  RollingTractor t = example("6.1");
  t.D0 = 0.7;
  const LateralStability s = lateral_stability(t);
  CHECK(!s.stop_reached);
  t.D0 = 1.0;
  CHECK_NEAR(lateral_stability(t).balance_tilt, s.balance_tilt, 1e-12);
}

TEST_CASE("the minimum is 38 degrees") {
  RollingTractor t = example("6.1");
  double low = 0.3, high = 0.9;  // height of the centre of gravity: the higher, the less
  for (int i = 0; i < 60; ++i) {
    t.H1 = (low + high) / 2;
    (lateral_stability(t).reaches_minimum() ? low : high) = t.H1;
  }
  t.H1 = low;
  CHECK_NEAR(lateral_stability(t).balance_tilt / kDegree, 38, 1e-6);
}
