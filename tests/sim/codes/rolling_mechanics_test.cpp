// Falls, climbs and impacts against bodies whose answer is known in closed form.
#include "sim/codes/rolling_mechanics.h"

#include <cmath>
#include <initializer_list>

#include "tests/kit/near.h"

using namespace sidehill;

namespace {

constexpr double kRollingMass = 700, kSlope = 0.3;

double rolling_energy(double inertia, double velocity) { return inertia * velocity * velocity / 2; }

}  // namespace

TEST_CASE("a rectangular block that rocks from edge to edge keeps 1 - 3/2 sin^2 of its slenderness") {
  // Plastic impact of a rigid block 2b wide and 2h high: Housner 1963, Bulletin of the Seismological Society of America
  // 53(2), in closed form; here b = R sin(a), h = R cos(a), inertia m R^2 / 3 about the centre.
  for (double a : {0.1, 0.3, 0.6}) {
    const double R = 1.4, b = R * std::sin(a), h = R * std::cos(a);
    const Turning turning{kRollingMass * R * R / 3, kRollingMass, kSlope};
    const RollingStage s = impact(turning, Vec3(b, 0, h), 2 * b, 0, 1.7, 0);
    CHECK_NEAR(s.after / s.before, 1 - 1.5 * std::sin(a) * std::sin(a), 1e-12);
    CHECK_NEAR(s.gained, rolling_energy(s.inertia, s.after) - rolling_energy(s.inertia_before, s.before), 1e-9);
  }
}

TEST_CASE("restitution 1 keeps the energy, less loses some, 0 the most") {
  const Turning turning{300, kRollingMass, kSlope};
  const Vec3 cog(0.4, 0, 0.7);
  double last = 1e-9;
  for (double restitution : {1.0, 0.8, 0.5, 0.2, 0.0}) {
    const double gained = impact(turning, cog, 1.1, 0, 2.0, restitution).gained;
    CHECK(gained <= last);
    if (restitution == 1) CHECK_NEAR(gained, 0, 1e-9);
    last = gained;
  }
  CHECK(last < -100);
  CHECK(impact(turning, cog, 1.1, 0, 2.0).gained == impact(turning, cog, 1.1, 0, 2.0, 0.2).gained);
}

TEST_CASE("a place that is where the body turns already changes nothing") {
  const Turning turning{300, kRollingMass, kSlope};
  const RollingStage s = impact(turning, Vec3(-0.2, 0, 0.7), 0, 0, 1.3);
  CHECK_NEAR(s.after, s.before, 1e-12);
  CHECK_NEAR(s.gained, 0, 1e-9);
}

TEST_CASE("a rod that falls from upright arrives with sqrt(3 g / l)") {
  // A thin rod of length l about its foot, from plumb to level: m g l/2 = (m l^2 / 3) w^2 / 2.
  const double l = 2;
  const Turning turning{kRollingMass * l * l / 12, kRollingMass, 0};
  const RollingStage s = fall(turning, Vec3(0, 0, l / 2), Vec3(l / 2, 0, 0), 0);
  CHECK(s.passed);
  CHECK_NEAR(s.after, std::sqrt(3 * kRollingGravity / l), 1e-12);
  CHECK(!fall(turning, Vec3(l / 2, 0, 0), Vec3(0, 0, l / 2), 0.99 * s.after).passed);  // and not quite back up
}

TEST_CASE("a climb is a fall the other way") {
  const Turning turning{120, kRollingMass, kSlope};
  const double r = 0.9, lean = 0.4;  // uphill of the vertical over the contact
  const auto place = [&](double uphill) {
    return Vec3(-r * std::sin(kSlope + uphill), 0, r * std::cos(kSlope + uphill));
  };
  const RollingStage down = fall(turning, place(0), place(lean), 0);
  const Vec3 low = place(lean);
  CHECK(climb(turning, low.x, low.z, down.after * 1.0001).passed);
  CHECK(!climb(turning, low.x, low.z, down.after * 0.9999).passed);
  CHECK_NEAR(climb(turning, low.x, low.z, down.after).needed, down.gained, 1e-9);
  const Vec3 past = place(-0.01);
  CHECK(climb(turning, past.x, past.z, 0).passed);
  CHECK(climb(turning, past.x, past.z, 0).needed == 0);
}

TEST_CASE("a new axis keeps the part of the turning along it") {
  CHECK_NEAR(along_new_axis(0.5, 2).after, 2 * std::cos(0.5), 1e-12);
  CHECK(along_new_axis(0, 2).after == 2);
}
