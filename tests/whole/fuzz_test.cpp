// Anything inside the ranges is answered or refused; any text is a scene or refused. Never a crash, never a NaN.
#include <cmath>
#include <random>

#include "render/text/rest/answer_table.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"
#include "sim/scene/scene_checks.h"
#include "sim/scene/scene_fields.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/near.h"
#include "tests/kit/share.h"
#include "vehicles/loader_tool.h"

using namespace sidehill;
using namespace sidehill::text;

namespace {

using Random = std::mt19937_64;

double between(Random& random, double min, double max) {
  switch (random() % 8) {
    case 0:
      return min;
    case 1:
      return max;
    case 2:
      return min > 0 ? min * std::pow(max / min, std::uniform_real_distribution<double>()(random)) : min;
    default:
      return std::uniform_real_distribution<double>(min, max)(random);
  }
}

// A scene with some of its data anywhere in their ranges; all of them at once would hardly ever be a machine.
Scene random_scene(Random& random, const Scene& from) {
  Scene scene = from;
  const double share = std::pow(10, -2.0 + 2 * std::uniform_real_distribution<double>()(random));
  for (const Field& field : scene_fields()) {
    if (std::uniform_real_distribution<double>()(random) > share) continue;
    if (const auto* number = std::get_if<NumberField>(&field.kind))
      set_file_value(*number, scene, between(random, number->min, number->max));
    if (const auto* flag = std::get_if<FlagField>(&field.kind)) *flag->at(scene) = random() % 2 == 0;
    if (const auto* choice = std::get_if<ChoiceField>(&field.kind))
      choice->set(scene, static_cast<int>(random() % choice->choices.size()));
  }
  for (Tyre* tyre : {&scene.vehicle.front.tyre, &scene.vehicle.rear.tyre})
    tyre->pressure_offset = std::min(tyre->pressure_offset, 0.5 * tyre->section_width);
  for (TyreFill& fill : scene.ballast.fill)
    if (fill.price.low > fill.price.high) std::swap(fill.price.low, fill.price.high);
  Bale& bale = scene.ballast.bale;  // round or square, and the only load
  if (bale.diameter > 0 || bale.width * bale.height == 0) bale.width = bale.height = 0;
  bale.count = std::round(bale.count);
  BallastPlan& plan = scene.ballast;
  if (has_bale(bale)) plan.loader_payload = 0;
  if (!scene.vehicle.loader.fitted) {
    plan.loader_tool = LoaderTool::bucket;
    plan.loader_tool_mass = plan.loader_load_ahead = 0;
    bale = {};
  }
  if (const double lowest = lowest_pin_height(scene.vehicle.loader, plan); plan.loader_pin_height < lowest)
    plan.loader_pin_height = std::min(lowest, 8.0);
  OwnMedium& own = scene.ballast.own_medium;
  own.density = std::max(own.density, kLeastOwnDensity);
  own.solid = std::min(own.solid, own.first_ice);
  if (own.price.low > own.price.high) std::swap(own.price.low, own.price.high);
  for (std::size_t n = random() % 3; n > 0; --n) {
    Feature feature;
    for (const auto& field : feature_fields()) {
      if (const auto* number = std::get_if<NumberFieldOf<Feature>>(&field.kind))
        set_file_value(*number, feature, between(random, number->min, number->max));
      if (const auto* choice = std::get_if<ChoiceFieldOf<Feature>>(&field.kind))
        choice->set(feature, static_cast<int>(random() % choice->choices.size()));
    }
    feature.x = scene.start.x + between(random, -3, 3);  // where the machine can feel it
    feature.y = scene.start.y + between(random, -3, 3);
    scene.terrain.features.push_back(feature);
  }
  return scene;
}

bool finite(std::optional<double> value) { return !value || std::isfinite(*value); }

void check_finite(const Answer& a) {
  const StaticSolution& s = a.statics;
  for (const auto& angle : {s.first_lift_off, s.tip_on_stop, s.tip_over, s.rigid_lift_off, s.slide, s.margin})
    CHECK(finite(angle));
  if (s.rest)
    for (double load : s.rest->load) CHECK(std::isfinite(load));
  for (const EnvelopePoint& point : a.by_heading) CHECK(finite(point.first_lift_off));
  CHECK(std::isfinite(total_mass(a.model)));
  CHECK(answer_table(a).find("nan") == std::string::npos);
}

}  // namespace

TEST_CASE("random data inside their ranges are answered without a NaN, or refused by name") {
  Random random(7);
  const Scene bases[] = {load_scene(SIDEHILL_SOURCE_DIR "/scenes/first_slope.toml"),
                         load_scene(SIDEHILL_SOURCE_DIR "/scenes/over_a_stump.toml"),
                         load_scene(SIDEHILL_SOURCE_DIR "/scenes/validate/reference_p.toml")};
  int answered = 0, refused = 0;
  for (int round = 0; round < 240 / kShare; ++round) {
    const Scene scene = random_scene(random, bases[round % 3]);
    INFO("round ", round, "\n", write_scene(scene));
    try {
      if (!find_conflict(scene)) {
        check_finite(answer(scene, 2));
        ++answered;
      }
    } catch (const InputError& error) {
      CHECK(std::string(error.what()).find('.') != std::string::npos);  // names a key
      ++refused;
    }
  }
  MESSAGE(answered, " answered, ", refused, " refused");
  CHECK(answered > 40 / kShare);  // a sixth of the rounds
}

TEST_CASE("random runs end without a NaN") {
  Random random(11);
  const Scene base = load_scene(SIDEHILL_SOURCE_DIR "/scenes/over_a_stump.toml");
  for (int round = 0; round < 16; ++round) {
    Scene scene = random_scene(random, base);
    scene.programme.duration = 0.3;
    scene.settings.time_step = 1e-3;
    if (find_conflict(scene)) continue;
    INFO("round ", round, "\n", write_scene(scene));
    try {
      const Recording recording = run(scene);
      if (recording.outcome == Outcome::diverged) {
        CHECK(!recording.divergence.empty());
        continue;
      }
      for (const State& state : recording.states) {
        CHECK(std::isfinite(state.X_GV.p.z));
        for (const WheelState& wheel : state.wheels) CHECK(std::isfinite(wheel.load));
      }
    } catch (const InputError& error) {
      CHECK(std::string(error.what()).size() > 10);
    }
  }
}

TEST_CASE("mangled scenes are read or refused in one line") {
  Random random(13);
  const std::string text = write_scene(load_scene(SIDEHILL_SOURCE_DIR "/scenes/over_a_stump.toml"));
  int refused = 0;
  for (int round = 0; round < 400; ++round) {
    std::string mangled = text;
    for (std::size_t n = 1 + random() % 6; n > 0; --n) {
      const std::size_t at = random() % mangled.size(), length = random() % 40;
      switch (random() % 5) {
        case 0:
          mangled[at] = static_cast<char>(random());
          break;
        case 1:
          mangled.erase(at, length);
          break;
        case 2:
          mangled.insert(at, mangled.substr(random() % mangled.size(), length));
          break;
        case 3:
          mangled.insert(at, std::string(length, "0.-[]{}\"'=\n"[random() % 11]));
          break;
        default:
          mangled.resize(std::max<std::size_t>(1, at));
          break;
      }
    }
    try {
      parse_scene(mangled, "mangled.toml");
    } catch (const InputError& error) {
      ++refused;
      const std::string message = error.what();
      CHECK(message.starts_with("mangled.toml"));
      CHECK(message.find('\n') == message.npos);
    }
  }
  CHECK(refused > 100);
}
