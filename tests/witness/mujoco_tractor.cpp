#include "tests/witness/mujoco_tractor.h"

#include <fmt/format.h>
#include <mujoco/mujoco.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <optional>
#include <stdexcept>
#include <string>

#include "tests/witness/mujoco_values.h"

namespace sidehill {
namespace {

constexpr const char* kNames[] = {"fl", "fr", "rl", "rr"};

std::string inertial(const MassProperties& props) {
  const Mat3& i = props.inertia;
  return fmt::format("<inertial mass=\"{:.17g}\" pos=\"{}\" fullinertia=\"{} {} {} {} {} {}\"/>", props.mass,
                     text(props.com), i[0][0], i[1][1], i[2][2], i[1][0], i[2][0], i[2][1]);
}

std::string ring(double mass, double radius) {
  const double about_axle = mass * radius * radius;
  return fmt::format("<inertial mass=\"{}\" pos=\"0 0 0\" diaginertia=\"{} {} {}\"/>", mass, 0.5 * about_axle,
                     about_axle, 0.5 * about_axle);
}

std::string slide(const std::string& name, const char* axis, double stiffness, double damping) {
  return fmt::format("<joint name=\"{}\" type=\"slide\" axis=\"{}\" stiffness=\"{:.17g}\" damping=\"{:.17g}\"/>", name,
                     axis, stiffness, damping);
}

// One wheel in the frame of what carries it: the rim with the wheel's mass, and beside it the tread. Where they turn,
// an equality keeps them turning alike.
std::string wheel_xml(const Model& m, const MujocoTractorSetup& setup, std::size_t i) {
  const WheelModel& wheel = m.wheels[i];
  const TyreLaw& tyre = wheel.tyre;
  const std::string name = kNames[i];
  const Vec3 place = i < 2 && m.axle_kind != AxleKind::fixed ? wheel.centre - m.pin : wheel.centre;
  const auto spin = [&](const char* of) {
    return i < 2 || setup.drives ? fmt::format("<joint name=\"{}_{}\" type=\"hinge\" axis=\"0 1 0\"/>", name, of)
                                 : std::string();
  };
  const double left = 1 - setup.tread_mass / wheel.dry.mass;
  if (!(left > 0)) throw std::runtime_error("a wheel is lighter than its tread");
  MassProperties rim = wheel.dry;
  rim.mass *= left;
  rim.inertia *= left;
  const std::string at = fmt::format("<body pos=\"{}\">", text(place));
  const std::string half_ring = ring(0.5 * setup.tread_mass, tyre.radius);
  return at + spin("rim") + inertial(rim) + "</body>" + at +
         (setup.sideways_rigid ? std::string()
                               : slide(name + "_side", "0 1 0", tyre.lateral_stiffness, tyre.lateral_damping)) +
         slide(name + "_along", "1 0 0", tyre.longitudinal_stiffness, tyre.lateral_damping) +
         slide(name + "_up", "0 0 1", tyre.vertical_stiffness, tyre.vertical_damping) + half_ring + "<body>" +
         spin("disc") + half_ring +
         fmt::format("<geom name=\"{}\" type=\"ellipsoid\" size=\"{} 0.002 {}\" contype=\"1\" conaffinity=\"2\"/>",
                     name, tyre.radius, tyre.radius) +
         "</body></body>";
}

// A bump as a row of rods across it whose tops follow its middle line: between a thin disc and a field of heights
// MuJoCo finds no steady contact. As wide as the bump is full height; the wheels have to stay on that.
std::string rods_xml(const Terrain& terrain) {
  constexpr double kRadius = 0.1, kApart = 0.01, kFull = 0.6;  // [m], [m], part of the width at full height
  std::string xml;
  for (const Feature& f : terrain.features) {
    if (f.kind != FeatureKind::bump || f.angle != 0) throw std::runtime_error("only bumps square to the way are built");
    const int last = static_cast<int>(f.length / kApart);
    for (int k = 0; k <= last; ++k) {
      const double x = f.x + f.length * (static_cast<double>(k) / last - 0.5);
      const GroundPoint top = ground_at(terrain, {x, f.y});
      const Vec3 centre = Vec3(x, f.y, top.height) - kRadius * top.normal, half(0, 0.5 * kFull * f.width, 0);
      xml += fmt::format("<geom type=\"capsule\" size=\"{}\" fromto=\"{} {}\" contype=\"2\" conaffinity=\"1\"/>",
                         kRadius, text(centre - half), text(centre + half));
    }
  }
  return xml;
}

std::string tractor_xml(const Model& m, const MujocoTractorSetup& setup) {
  MassProperties base = m.chassis;
  const auto add = [&](const MassProperties& props, const Vec3& at) {
    if (props.mass > 0) base = combine(base, {props.mass, props.com + at, props.inertia});
  };
  if (m.loader.fitted) add(m.loader.boom, m.loader.pivot);
  const bool swings = m.axle_kind != AxleKind::fixed;
  if (!swings) add(m.axle, m.pin);
  const Quat heading = glm::angleAxis(m.start.heading + 0.5 * kPi, Vec3(0, 0, 1));
  std::string front = wheel_xml(m, setup, 0) + wheel_xml(m, setup, 1);
  if (swings)
    front = fmt::format(
                "<body pos=\"{}\"><joint name=\"axle\" type=\"hinge\" axis=\"1 0 0\" limited=\"true\" "
                "range=\"{} {}\"/>",
                text(m.pin), -m.stop_angle, m.stop_angle) +
            inertial(m.axle) + front + "</body>";
  std::string ties;
  for (std::size_t i = 0; i < (setup.drives ? kWheels : std::size_t{2}); ++i)
    ties += fmt::format("<joint joint1=\"{0}_rim\" joint2=\"{0}_disc\"/>", kNames[i]);
  return fmt::format(
             "<mujoco><compiler angle=\"radian\" coordinate=\"local\" inertiafromgeom=\"false\" "
             "balanceinertia=\"false\"/><size njmax=\"2000\" nconmax=\"400\"/>"
             "<option integrator=\"Euler\" timestep=\"{}\" cone=\"elliptic\" impratio=\"100\" solver=\"Newton\" "
             "tolerance=\"1e-12\" iterations=\"100\"/>"
             "<default><geom friction=\"{} 0 0\" condim=\"3\" solref=\"{} 1\" solimp=\"0.9995 0.9995 0.001\"/>"
             "</default><worldbody><geom type=\"plane\" size=\"0 0 1\" contype=\"2\" conaffinity=\"1\"/>",
             setup.time_step, setup.friction, 4 * setup.time_step) +
         rods_xml(m.terrain) +
         fmt::format("<body name=\"chassis\" pos=\"{}\" quat=\"{}\"><freejoint/>",
                     text({m.start.x, m.start.y, m.wheels[kRearLeft].tyre.radius}), text(heading)) +
         inertial(base) + front + wheel_xml(m, setup, 2) + wheel_xml(m, setup, 3) + "</body></worldbody><equality>" +
         ties + "</equality></mujoco>";
}

}  // namespace

struct MujocoTractor::Impl {
  struct Free {
    void operator()(mjModel* m) const { mj_deleteModel(m); }
    void operator()(mjData* d) const { mj_deleteData(d); }
  };
  std::unique_ptr<mjModel, Free> model;
  std::unique_ptr<mjData, Free> data;
  double gravity = 0;
  std::optional<double> speed;  // wanted [m/s]
  int chassis = 0;
  struct Wheel {
    int disc = 0, up = 0, along = 0;      // numbers in MuJoCo: of the shape, of two slides
    int turns_rim = -1, turns_disc = -1;  // of speeds; -1 = held
    double radius = 0;                    // [m]
    double along_per_load = 0;            // lengthwise stiffness over load [1/m]
  };
  std::array<Wheel, kWheels> wheels;

  int joint(const std::string& name) const { return mj_name2id(model.get(), mjOBJ_JOINT, name.c_str()); }
  int speed_of(const std::string& name) const { return joint(name) < 0 ? -1 : model->jnt_dofadr[joint(name)]; }
};

MujocoTractor::MujocoTractor(const Model& m, const MujocoTractorSetup& setup) : impl_(std::make_unique<Impl>()) {
  mju_user_warning = [](const char*) {};  // or it writes a log file into the working folder; step() looks for itself
  for (const WheelModel& wheel : m.wheels)
    if (wheel.liquid.mass > 0 || wheel.dual > 0) throw std::runtime_error("fills and dual tyres are not built");
  if (m.rope_load.mass > 0 || m.tank_liquid.mass > 0 || m.trailer.mass > 0 || m.articulation != 0)
    throw std::runtime_error("what hangs, a trailer and a steered joint are not built");
  Impl& w = *impl_;
  w.model.reset(compiled(tractor_xml(m, setup)));
  mjModel& mj = *w.model;
  w.data.reset(mj_makeData(&mj));
  w.gravity = m.gravity;
  w.chassis = mj_name2id(&mj, mjOBJ_BODY, "chassis");
  for (std::size_t i = 0; i < kWheels; ++i) {
    const std::string name = kNames[i];
    const TyreLaw& tyre = m.wheels[i].tyre;
    w.wheels[i] = {mj_name2id(&mj, mjOBJ_GEOM, kNames[i]),
                   w.joint(name + "_up"),
                   w.joint(name + "_along"),
                   w.speed_of(name + "_rim"),
                   w.speed_of(name + "_disc"),
                   tyre.radius,
                   tyre.longitudinal_stiffness / tyre.reference_load};
  }
  // The axle's stop gives by the machine's own stiffness. Of a limit with impedance d and reference (-a, -b), MuJoCo's
  // force at rest is a r / ((1 - d) A) with A = dof_invweight0 (its documentation, "Solver parameters"); a small d
  // keeps the inertia that the limit itself adds, d / ((1 - d) A), small.
  if (const int axle = w.joint("axle"); axle >= 0) {
    constexpr double kImpedance = 0.02;
    const double scale = (1 - kImpedance) * mj.dof_invweight0[mj.jnt_dofadr[axle]];
    mjtNum* const solref = mj.jnt_solref + row(axle, mjNREF);
    solref[0] = -m.stop_stiffness * scale;
    solref[1] = -m.stop_damping * scale;
    mjtNum* const solimp = mj.jnt_solimp + row(axle, mjNIMP);
    solimp[0] = solimp[1] = kImpedance;
  }
  mj_forward(&mj, w.data.get());
}

MujocoTractor::~MujocoTractor() = default;
MujocoTractor::MujocoTractor(MujocoTractor&&) noexcept = default;
MujocoTractor& MujocoTractor::operator=(MujocoTractor&&) noexcept = default;

void MujocoTractor::step(double slope) {
  const Impl& w = *impl_;
  mjModel& m = *w.model;
  mjData& d = *w.data;
  m.opt.gravity[0] = 0;
  m.opt.gravity[1] = -w.gravity * std::sin(slope);
  m.opt.gravity[2] = -w.gravity * std::cos(slope);
  // Lengthwise a tyre is as stiff as it is loaded (TyreLaw).
  const std::array<double, kWheels> load = loads();
  for (std::size_t i = 0; i < kWheels; ++i) m.jnt_stiffness[w.wheels[i].along] = w.wheels[i].along_per_load * load[i];
  if (w.speed) {
    constexpr double kPull = 3e4;  // of both wheels, per speed that lacks [N s/m]
    const double lacks = *w.speed - glm::dot(X_GV().R[0], vec(d.qvel));
    for (std::size_t i = kRearLeft; i < kWheels; ++i)
      d.qfrc_applied[w.wheels[i].turns_rim] = 0.5 * kPull * w.wheels[i].radius * lacks;
  }
  mj_step(&m, &d);
  for (int i = 0; i < mjNWARNING; ++i)
    if (d.warning[i].number > 0) throw std::runtime_error(mju_warningText(i, d.warning[i].lastinfo));
}

void MujocoTractor::drive_at(double speed) {
  Impl& w = *impl_;
  if (w.wheels[kRearLeft].turns_rim < 0) throw std::runtime_error("its rear wheels are held");
  w.speed = speed;
  const Vec3 v = speed * X_GV().R[0];
  for (int i = 0; i < 3; ++i) w.data->qvel[i] = v[i];
  for (const Impl::Wheel& wheel : w.wheels)
    w.data->qvel[wheel.turns_rim] = w.data->qvel[wheel.turns_disc] = speed / wheel.radius;
}

double MujocoTractor::time() const { return impl_->data->time; }

Pose MujocoTractor::X_GV() const {
  const mjData& d = *impl_->data;
  return {glm::mat3_cast(quat(d.xquat + row(impl_->chassis, 4))), vec(d.xpos + row(impl_->chassis, 3))};
}

std::array<double, kWheels> MujocoTractor::loads() const {
  std::array<double, kWheels> out{};
  const mjData& d = *impl_->data;
  for (int c = 0; c < d.ncon; ++c)
    for (std::size_t i = 0; i < kWheels; ++i) {
      const int disc = impl_->wheels[i].disc;
      if (d.contact[c].geom1 != disc && d.contact[c].geom2 != disc) continue;
      mjtNum force[6];
      mj_contactForce(impl_->model.get(), &d, c, force);
      out[i] += force[0];
    }
  return out;
}

std::array<double, kWheels> MujocoTractor::pressed() const {
  std::array<double, kWheels> out{};
  const mjModel& m = *impl_->model;
  const mjData& d = *impl_->data;
  for (std::size_t i = 0; i < kWheels; ++i) {
    const int up = impl_->wheels[i].up, v = m.jnt_dofadr[up];
    out[i] = m.jnt_stiffness[up] * d.qpos[m.jnt_qposadr[up]] + m.dof_damping[v] * d.qvel[v];
  }
  return out;
}

}  // namespace sidehill
