// The columns of a run.
#include "render/text/motion/signals.h"

#include <algorithm>
#include <sstream>

#include "sim/base/constants.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"
#include "sim/scene/scene.h"
#include "tests/kit/machines.h"
#include "tests/kit/near.h"

using namespace sidehill;
using namespace sidehill::text;

TEST_CASE("every stored state is a line of numbers, the last as the state has it") {
  Scene scene = test_scene("over_a_stump");
  scene.programme.duration = 2;
  const Recording recording = run(scene);
  std::istringstream csv(signals_csv(recording, {"load_rear_left_n", "roll_deg"}));
  std::string line, last;
  std::getline(csv, line);
  CHECK(line == "time_s,load_rear_left_n,roll_deg");
  std::size_t lines = 0;
  while (std::getline(csv, line)) last = line, ++lines;
  CHECK(lines == recording.states.size());
  double time = 0, load = 0, roll = 0;
  char comma = 0;
  std::istringstream(last) >> time >> comma >> load >> comma >> roll;
  CHECK_NEAR(time, recording.states.back().time, 1e-6);
  CHECK_NEAR(load, recording.states.back().wheels[kRearLeft].load, 1e-2);
  CHECK_NEAR(roll, std::asin(recording.states.back().X_GV.R[1].z) / kDegree, 0.2);
}

TEST_CASE("all signals have a name of their own and a value in every line; an unknown one is refused") {
  Scene scene = test_scene("first_slope");
  scene.programme.duration = 0.2;
  const Recording recording = run(scene);
  auto names = signal_names();
  CHECK(names.size() > 30);
  const std::string csv = signals_csv(recording);
  const auto commas = [](const std::string& s) { return std::count(s.begin(), s.end(), ','); };
  std::istringstream lines(csv);
  std::string line;
  while (std::getline(lines, line)) {
    CHECK(commas(line) == static_cast<long>(names.size()) - 1);
    CHECK(line.find("nan") == std::string::npos);
  }
  std::sort(names.begin(), names.end());
  CHECK(std::adjacent_find(names.begin(), names.end()) == names.end());
  CHECK_THROWS_AS(signals_csv(recording, {"speed_of_light"}), InputError);
}
