// Chassis, engine, bonnet, mudguards, rear axle, hitch, seat and steering wheel, driver. Frame V (shapes.h).
#include <algorithm>
#include <cmath>
#include <glm/ext/matrix_transform.hpp>
#include <glm/geometric.hpp>

#include "render/screen/scene3d/machine_mesh.h"

namespace sidehill::screen {
namespace {

// Everything below is laid out from these few lines.
struct BodyLines {
  float wheelbase, nose, top, half_bonnet, cowl, pin, rear_radius, half_track, rear_width;
  float belly;   // underside of the bonnet's sides
  float engine;  // underside of the engine
  float inner;   // inside of the rear wheels, sideways
  float joint;   // of an articulated machine
  explicit BodyLines(const BodyShape& s) {
    wheelbase = f(s.wheelbase);
    nose = std::max(f(s.nose_x), 0.6f * wheelbase);
    top = f(s.bonnet_top);
    half_bonnet = std::max(f(s.bonnet_width) / 2, 0.12f);
    pin = f(s.pin_z);
    rear_radius = f(s.rear_tyre.radius);
    rear_width = f(s.rear_tyre.width);
    half_track = f(s.rear_track) / 2;
    const float behind = s.frame == FrameKind::cab ? f(s.frame_x_front) : f(s.seat.x) + 0.72f;
    cowl = std::clamp(behind, 0.15f * nose, 0.62f * nose);
    belly = glm::mix(top, pin + 0.16f, 0.66f);
    engine = std::min(pin + 0.18f, belly - 0.05f);
    inner = std::max(half_track - rear_width / 2 - 0.05f, 0.22f);
    joint = std::clamp(f(s.joint_x), 0.35f, nose - 0.5f);
    if (s.part == Bodywork::front_half) cowl = std::min(std::max(cowl, joint + 0.14f), nose - 0.3f);
    if (s.part == Bodywork::rear_half) cowl = std::min(cowl, joint);
  }
};

// Cross-section of the bonnet: flat underside, rounded shoulders. `half` half width, z from low to high.
std::vector<glm::vec3> bonnet_ring(float x, float half, float low, float high) {
  std::vector<glm::vec3> ring;
  constexpr int kPoints = 20;
  const float height = high - low, shoulder = std::min(0.42f * height, 0.55f * half);
  ring.emplace_back(x, -half * 0.97f, low);
  ring.emplace_back(x, half * 0.97f, low);
  for (int i = 0; i <= kPoints; ++i) {
    const float a = kTurn / 2 * static_cast<float>(i) / kPoints, c = std::cos(a), s = std::max(std::sin(a), 0.0f);
    const float cx = std::copysign(std::pow(std::abs(c), 0.55f), c), sz = std::pow(s, 0.55f);
    ring.emplace_back(x, half * cx, high - shoulder + shoulder * sz);
  }
  return ring;
}

void add_bonnet(MeshBuilder& mesh, const BodyLines& l) {
  const float length = l.nose - l.cowl, droop = 0.10f * length + 0.02f;
  const auto station = [&](float t, float shrink_width, float lower_top, float raise_low) {
    const float x = l.cowl + t * length;
    const float high = l.top - droop * t * t - lower_top;
    return bonnet_ring(x, l.half_bonnet * (1 - 0.13f * t) * shrink_width, l.belly - 0.04f * t + raise_low, high);
  };
  mesh.paint = paint::kBody;
  mesh.skin({station(0, 0.97f, 0.01f, 0), station(0.015f, 1, 0, 0), station(0.2f, 1, 0, 0), station(0.4f, 1, 0, 0),
             station(0.6f, 1, 0, 0), station(0.78f, 1, 0, 0), station(0.88f, 0.985f, 0.012f, 0),
             station(0.945f, 0.95f, 0.04f, 0.0f), station(0.98f, 0.90f, 0.085f, 0.01f),
             station(1.0f, 0.82f, 0.135f, 0.03f)});
  // Spine.
  mesh.paint = paint::kTrim;
  std::vector<std::vector<glm::vec3>> spine;
  for (int i = 0; i <= 6; ++i) {
    const float t = 0.02f + 0.86f * static_cast<float>(i) / 6, x = l.cowl + t * length, z = l.top - droop * t * t;
    const float half = l.half_bonnet * (0.30f - 0.10f * t), lift = 0.011f - (t > 0.83f ? 0.018f : 0.0f);
    spine.push_back(
        {{x, -half, z - 0.03f}, {x, half, z - 0.03f}, {x, half * 0.88f, z + lift}, {x, -half * 0.88f, z + lift}});
  }
  mesh.skin(spine);
  // Dark louvres in the sides, slanting.
  mesh.paint = paint::kBlack;
  const float height = l.top - l.belly;
  for (const float side : {-1.0f, 1.0f})
    for (int i = 0; i < 6; ++i) {
      const float t = 0.34f + 0.075f * static_cast<float>(i), x = l.cowl + t * length,
                  y = side * l.half_bonnet * (1 - 0.13f * t);
      mesh.beam({x - 0.05f, y * 0.992f, l.belly + 0.12f * height}, {x + 0.05f, y * 0.992f, l.belly + 0.46f * height},
                0.018f, 0.042f);
    }
  // Grille and lamps.
  const float front = l.nose, low = l.belly - 0.03f, high = l.top - droop - 0.16f, wide = l.half_bonnet * 0.62f;
  const float middle = (low + high) / 2, half_height = std::max((high - low) / 2, 0.05f);
  mesh.box({front - 0.005f, 0, middle}, {0.03f, wide, half_height * 0.86f}, 0.02f);
  mesh.paint = paint::kMid;
  for (int i = -1; i <= 1; ++i)  // few and broad: thinner ones flicker where a pixel is one sample
    mesh.box({front + 0.026f, 0, middle + half_height * 0.50f * static_cast<float>(i)},
             {0.010f, wide * 0.9f, 0.13f * half_height}, 0.004f);
  mesh.paint = paint::kGlassLamp;
  for (const float side : {-1.0f, 1.0f})
    mesh.box({front - 0.055f, side * l.half_bonnet * 0.66f, high + 0.03f}, {0.052f, 0.075f, 0.040f}, 0.018f);
}

// The joint in the middle of an articulated machine: a fork of the rear half round an eye of the front half.
void add_joint(MeshBuilder& mesh, const BodyLines& l, bool front) {
  mesh.paint = paint::kMid;
  if (front) {
    mesh.bar({l.joint, 0, l.pin - 0.06f}, {l.joint, 0, l.pin + 0.06f}, 0.11f, 18);
    return;
  }
  for (const float dz : {-0.12f, 0.12f}) {
    mesh.box({l.joint - 0.14f, 0, l.pin + dz}, {0.16f, 0.14f, 0.035f}, 0.015f);
    mesh.bar({l.joint, 0, l.pin + dz - 0.035f}, {l.joint, 0, l.pin + dz + 0.035f}, 0.14f, 18);
  }
  mesh.paint = paint::kSteel;
  mesh.bar({l.joint, 0, l.pin - 0.2f}, {l.joint, 0, l.pin + 0.2f}, 0.045f, 14);
}

// From the front wheels' pin or the joint to the nose.
void add_engine(MeshBuilder& mesh, const BodyLines& l, bool articulated) {
  mesh.paint = paint::kDark;
  const float engine_low = std::min(l.engine, -0.02f);
  mesh.box({(l.cowl + l.nose) / 2 - 0.05f, 0, (engine_low + l.belly) / 2},
           {(l.nose - l.cowl) / 2 - 0.03f, l.half_bonnet * 0.62f, std::abs(l.belly - engine_low) / 2 + 0.02f}, 0.04f);
  if (articulated) {
    mesh.box({(l.joint + l.nose) / 2, 0, l.pin}, {(l.nose - l.joint) / 2 - 0.02f, 0.15f, 0.09f}, 0.03f);
    const float low = std::min(l.pin, engine_low), high = std::max(l.pin, engine_low) + 0.05f;
    mesh.box({(l.cowl + l.nose) / 2, 0, (low + high) / 2}, {(l.nose - l.cowl) * 0.3f, 0.13f, (high - low) / 2}, 0.02f);
    return;
  }
  // Front frame down to the pin.
  mesh.box({l.wheelbase * 0.5f + l.nose * 0.5f - 0.22f, 0, l.pin + 0.22f},
           {std::max((l.nose - l.wheelbase) * 0.5f + 0.42f, 0.2f), 0.17f, 0.10f}, 0.03f);
  mesh.paint = paint::kMid;
  for (const float dx : {-0.16f, 0.16f}) mesh.box({l.wheelbase + dx, 0, l.pin + 0.07f}, {0.045f, 0.10f, 0.12f}, 0.02f);
}

void add_drive_line(MeshBuilder& mesh, const BodyLines& l, bool articulated) {
  mesh.paint = paint::kDark;
  const float gearbox_top = 0.22f, reach = articulated ? (l.joint - 0.12f) / 2 : l.cowl * 0.55f;
  mesh.box({0.02f, 0, -0.02f}, {0.34f, 0.24f, 0.26f}, 0.05f);
  mesh.box({reach, 0, -0.04f}, {std::max(reach, articulated ? 0.1f : 0.2f), 0.20f, gearbox_top}, 0.04f);
  // Rear axle.
  const float girth = 0.15f * l.rear_radius, end = l.half_track - 0.05f * l.rear_width;
  for (const float side : {-1.0f, 1.0f}) {
    mesh.paint = paint::kDark;
    mesh.bar({0, side * 0.18f, 0}, {0, side * std::min(0.42f, end), 0}, girth * 1.7f, girth * 1.25f, 18);
    mesh.paint = paint::kMid;
    mesh.bar({0, side * 0.25f, 0}, {0, side * end, 0}, girth, girth * 0.9f, 16);
  }
  // Hitch: lower links, top link stub, drawbar.
  mesh.paint = paint::kMid;
  for (const float side : {-1.0f, 1.0f}) {
    mesh.beam({-0.15f, side * 0.24f, -0.28f * l.rear_radius},
              {-0.62f - 0.15f * l.rear_radius, side * 0.36f, -0.30f * l.rear_radius}, 0.035f, 0.07f);
    mesh.bar({-0.30f, side * 0.26f, 0.25f}, {-0.50f, side * 0.32f, -0.28f * l.rear_radius}, 0.022f, 8);
  }
  mesh.bar({-0.25f, 0, 0.16f}, {-0.45f, 0, 0.18f}, 0.03f, 8);
  mesh.box({-0.35f, 0, -0.45f * l.rear_radius}, {0.35f, 0.05f, 0.025f}, 0.01f);
  // Fuel tank and steps below the cab.
  mesh.paint = paint::kDark;
  const float tank_y = std::min(l.inner, 0.62f) - 0.02f, tank_x = std::max(l.cowl - 0.30f, l.rear_radius * 0.95f);
  mesh.box({tank_x, -tank_y + 0.12f, -0.18f}, {0.30f, 0.14f, 0.20f}, 0.05f);
  mesh.paint = paint::kMid;
  for (int i = 0; i < 3; ++i)
    mesh.box(
        {tank_x + 0.05f, tank_y - 0.02f + 0.02f * static_cast<float>(2 - i), -0.32f + 0.2f * static_cast<float>(i)},
        {0.16f, 0.10f, 0.015f}, 0.008f);
}

// Mudguard over one rear wheel, with its inner wall.
void add_mudguard(MeshBuilder& mesh, const BodyLines& l, float side) {
  const float radius = l.rear_radius + 0.09f, inner = std::max(l.inner - 0.03f, 0.2f),
              outer = l.half_track + 0.40f * l.rear_width;
  const auto arc = [&](float from, float to, float y0, float y1, float r0, float r1, float lip) {
    std::vector<std::vector<glm::vec3>> rings;
    constexpr int kSteps = 18;
    for (int i = 0; i <= kSteps; ++i) {
      const float a = glm::mix(from, to, static_cast<float>(i) / kSteps), c = std::cos(a), s = std::sin(a);
      const auto at = [&](float y, float r) { return glm::vec3(r * c, side * y, r * s); };
      rings.push_back({at(y0, r0), at(y1 - 0.05f, r0), at(y1, r0 - lip), at(y1, r1), at(y1 - 0.06f, r1 + 0.03f),
                       at(y0, r1 + 0.035f)});
    }
    mesh.skin(rings);
  };
  mesh.paint = paint::kBody;
  arc(0.62f, 2.50f, inner, outer, radius - 0.014f, radius, 0.05f);
  mesh.paint = paint::kTrim;  // inner wall: a sector of a ring
  std::vector<std::vector<glm::vec3>> wall;
  for (int i = 0; i <= 14; ++i) {
    const float a = glm::mix(0.62f, 2.50f, static_cast<float>(i) / 14), c = std::cos(a), s = std::sin(a),
                low = 0.45f * l.rear_radius;
    wall.push_back({{low * c, side * (inner - 0.02f), low * s},
                    {radius * c, side * (inner - 0.02f), radius * s},
                    {radius * c, side * (inner + 0.01f), radius * s},
                    {low * c, side * (inner + 0.01f), low * s}});
  }
  mesh.skin(wall);
  mesh.paint = {150, 44, 30, 160};  // tail lamp
  mesh.box({-radius * 0.80f, side * (outer - 0.09f), radius * 0.66f}, {0.03f, 0.06f, 0.03f}, 0.012f);
}

void add_seat(MeshBuilder& mesh, const BodyShape& s, const BodyLines& l) {
  const glm::vec3 seat(s.seat);
  mesh.paint = paint::kDark;
  const float floor = std::min(seat.z - 0.55f, l.top - 0.35f);
  mesh.box({(l.cowl + seat.x - 0.35f) / 2, 0, floor},
           {(l.cowl - seat.x + 0.35f) / 2 + 0.02f, std::min(l.inner, 0.60f), 0.035f}, 0.02f);
  mesh.box({seat.x - 0.02f, 0, (floor + seat.z - 0.22f) / 2},
           {0.16f, 0.15f, std::max((seat.z - 0.22f - floor) / 2, 0.03f)}, 0.03f);
  mesh.paint = paint::kBlack;
  mesh.box({seat.x, 0, seat.z - 0.20f}, {0.24f, 0.24f, 0.055f}, 0.045f);
  mesh.place =
      glm::rotate(glm::translate(glm::mat4(1), seat + glm::vec3(-0.26f, 0, 0.13f)), -0.16f, glm::vec3(0, 1, 0));
  mesh.box({0, 0, 0}, {0.055f, 0.23f, 0.33f}, 0.05f);
  mesh.place = glm::mat4(1);
  // Dash and steering wheel.
  mesh.paint = paint::kDark;
  mesh.box({l.cowl - 0.05f, 0, (l.top + floor) / 2 - 0.02f}, {0.09f, 0.26f, std::max((l.top - floor) / 2, 0.05f)},
           0.04f);
  const glm::vec3 wheel(std::min(seat.x + 0.46f, l.cowl - 0.14f), 0, seat.z + 0.06f);
  mesh.bar({l.cowl - 0.06f, 0, l.top - 0.12f}, wheel, 0.028f, 8);
  mesh.paint = paint::kBlack;
  mesh.place = glm::rotate(glm::translate(glm::mat4(1), wheel), -0.55f, glm::vec3(0, 1, 0));
  std::vector<std::vector<glm::vec3>> rings;
  std::vector<glm::vec3> hoop;
  for (int i = 0; i <= 20; ++i) {
    const float a = kTurn * static_cast<float>(i) / 20;
    hoop.emplace_back(0.19f * std::cos(a), 0.19f * std::sin(a), 0.0f);
  }
  mesh.tube(hoop, 0.016f, 6);
  mesh.box({0, 0, -0.005f}, {0.18f, 0.018f, 0.008f}, 0.004f);
  mesh.place = glm::mat4(1);
}

void add_exhaust(MeshBuilder& mesh, const BodyShape& s, const BodyLines& l) {
  mesh.paint = paint::kDark;
  const bool cab = s.frame == FrameKind::cab;
  const float x = cab ? l.cowl + 0.09f : glm::mix(l.cowl, l.nose, 0.55f),
              y = cab ? -std::min(l.half_bonnet + 0.08f, f(s.frame_width) / 2) : -0.5f * l.half_bonnet;
  const float foot = cab ? l.top - 0.25f : l.top - 0.10f, head = cab ? f(s.frame_top) - 0.12f : l.top + 0.55f;
  if (cab) mesh.bar({x, y * 0.7f, foot}, {x, y, foot + 0.06f}, 0.045f, 10);
  mesh.bar({x, y, foot}, {x, y, head}, 0.034f, 12);
  mesh.paint = paint::kMid;
  mesh.bar({x, y, glm::mix(foot, head, 0.22f)}, {x, y, glm::mix(foot, head, 0.72f)}, 0.062f, 16);
  mesh.paint = paint::kDark;
  mesh.bar({x, y, head - 0.02f}, {x - 0.07f, y, head + 0.07f}, 0.032f, 10);
}

}  // namespace

Mesh body_mesh(const BodyShape& shape, Detail detail) {
  const BodyLines l(shape);
  MeshBuilder mesh(detail);
  const bool articulated = shape.part != Bodywork::whole;
  if (shape.part != Bodywork::rear_half) {
    add_engine(mesh, l, articulated);
    add_bonnet(mesh, l);
    add_exhaust(mesh, shape, l);
  }
  if (shape.part != Bodywork::front_half) {
    add_drive_line(mesh, l, articulated);
    add_mudguard(mesh, l, 1);
    add_mudguard(mesh, l, -1);
    add_seat(mesh, shape, l);
    add_frame(mesh, shape);
  }
  if (articulated) add_joint(mesh, l, shape.part == Bodywork::front_half);
  Mesh made = mesh.take();
  bake_light(made, 0.7f);
  return made;
}

Mesh driver_mesh(const DriverShape& shape, Detail detail) {
  MeshBuilder mesh(detail);
  mesh.place = glm::translate(glm::mat4(1), glm::vec3(shape.seat));
  const Paint overall = {88, 108, 130, 12}, skin = {205, 165, 135, 30}, boot = {50, 46, 44, 40},
              cap = {226, 222, 210, 20};
  mesh.paint = overall;
  const auto ring = [](float x, float z, float dx, float dy) {
    std::vector<glm::vec3> points;
    for (int i = 0; i < 12; ++i) {
      const float a = kTurn * static_cast<float>(i) / 12;
      points.emplace_back(x + dx * std::cos(a), dy * std::sin(a), z);
    }
    return points;
  };
  mesh.skin({ring(-0.10f, -0.13f, 0.13f, 0.17f), ring(-0.11f, 0.0f, 0.125f, 0.165f), ring(-0.15f, 0.22f, 0.125f, 0.19f),
             ring(-0.165f, 0.36f, 0.10f, 0.19f), ring(-0.165f, 0.42f, 0.06f, 0.10f)});
  for (const float side : {-1.0f, 1.0f}) {
    mesh.paint = overall;
    mesh.bar({-0.08f, side * 0.10f, -0.08f}, {0.33f, side * 0.15f, -0.04f}, 0.085f, 0.070f, 10);  // thigh
    mesh.bar({0.33f, side * 0.15f, -0.04f}, {0.40f, side * 0.15f, -0.40f}, 0.068f, 0.055f, 10);   // shin
    mesh.bar({-0.16f, side * 0.21f, 0.33f}, {-0.02f, side * 0.28f, 0.08f}, 0.058f, 0.050f, 10);   // upper arm
    mesh.bar({-0.02f, side * 0.28f, 0.08f}, {0.30f, side * 0.17f, 0.14f}, 0.048f, 0.038f, 10);    // forearm
    mesh.paint = skin;
    mesh.box({0.33f, side * 0.165f, 0.15f}, {0.045f, 0.035f, 0.035f}, 0.02f);
    mesh.paint = boot;
    mesh.box({0.46f, side * 0.15f, -0.44f}, {0.13f, 0.05f, 0.045f}, 0.03f);
  }
  mesh.paint = skin;
  mesh.bar({-0.16f, 0, 0.40f}, {-0.155f, 0, 0.50f}, 0.055f, 10);
  const auto ball = [&](glm::vec3 c, glm::vec3 r) {
    std::vector<std::vector<glm::vec3>> rings;
    for (int k = 1; k < 8; ++k) {
      const float b = kTurn / 2 * static_cast<float>(k) / 8;
      std::vector<glm::vec3> points;
      for (int i = 0; i < 12; ++i) {
        const float a = kTurn * static_cast<float>(i) / 12;
        points.push_back(c + r * glm::vec3(std::sin(b) * std::cos(a), std::sin(b) * std::sin(a), -std::cos(b)));
      }
      rings.push_back(points);
    }
    mesh.skin(rings);
  };
  ball({-0.145f, 0, 0.58f}, {0.105f, 0.085f, 0.125f});
  mesh.paint = cap;
  ball({-0.15f, 0, 0.645f}, {0.112f, 0.095f, 0.075f});
  mesh.box({-0.03f, 0, 0.632f}, {0.06f, 0.07f, 0.010f}, 0.006f);
  if (shape.belted) {
    mesh.paint = {232, 190, 60, 40};
    mesh.beam({-0.02f, 0.17f, -0.10f}, {-0.02f, -0.17f, -0.10f}, 0.05f, 0.02f, {1, 0, 0});
    mesh.beam({0.015f, 0.15f, -0.08f}, {-0.06f, -0.13f, 0.40f}, 0.05f, 0.02f, {0, 1, 0});
  }
  Mesh made = mesh.take();
  bake_light(made, 0.25f);
  return made;
}

}  // namespace sidehill::screen
