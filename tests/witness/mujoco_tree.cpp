// The base's frame sits at its centre of mass, so that the free joint's coordinates are that centre's place and
// velocity; a link's frame sits on its hinge as in the Tree. A free joint turns with rates along the body's own axes.
#include "tests/witness/mujoco_tree.h"

#include <fmt/format.h>
#include <mujoco/mujoco.h>

#include <algorithm>
#include <cstring>
#include <stdexcept>
#include <string>
#include <vector>

#include "tests/witness/mujoco_values.h"

static_assert(sizeof(mjtNum) == 8, "a witness needs MuJoCo in double precision");

namespace sidehill {
namespace {

void put(const Vec3& v, mjtNum* to) { to[0] = v.x, to[1] = v.y, to[2] = v.z; }
void put(const Quat& q, mjtNum* to) { to[0] = q.w, to[1] = q.x, to[2] = q.y, to[3] = q.z; }

// A body and all that hangs on it. The moments of inertia are put in afterwards: the reader refuses those that no solid
// can have, and a fill that swings as a pendulum is no solid.
std::string body_xml(const Tree& tree, std::size_t i) {
  const TreeBody& body = tree.bodies[i];
  const Quat axes = glm::quat_cast(principal(body.props.inertia).R);
  const bool base = i == 0;
  Vec3 place = body.place;
  if (body.parent == 0) place -= tree.bodies[0].props.com;
  std::string xml =
      fmt::format("<body name=\"{}\" pos=\"{}\">", i, text(base ? Vec3(0.0) : place)) +
      (base ? std::string("<freejoint/>") : fmt::format("<joint type=\"hinge\" axis=\"{}\"/>", text(body.axis))) +
      fmt::format(
          "<inertial mass=\"{:.17g}\" pos=\"{}\" quat=\"{:.17g} {:.17g} {:.17g} {:.17g}\" diaginertia=\"1 1 1\"/>",
          body.props.mass, text(base ? Vec3(0.0) : body.props.com), axes.w, axes.x, axes.y, axes.z);
  for (std::size_t k = i + 1; k < tree.bodies.size(); ++k)
    if (tree.bodies[k].parent == static_cast<int>(i)) xml += body_xml(tree, k);
  return xml + "</body>";
}

std::string tree_xml(const Tree& tree) {
  return "<mujoco><compiler angle=\"radian\" coordinate=\"local\" inertiafromgeom=\"false\" balanceinertia=\"false\"/>"
         "<option integrator=\"Euler\"><flag constraint=\"disable\" contact=\"disable\" passive=\"disable\" "
         "actuation=\"disable\" sensor=\"disable\"/></option><worldbody>" +
         body_xml(tree, 0) + "</worldbody></mujoco>";
}

}  // namespace

struct MujocoTree::Impl {
  struct Free {
    void operator()(mjModel* m) const { mj_deleteModel(m); }
    void operator()(mjData* d) const { mj_deleteData(d); }
  };
  std::unique_ptr<mjModel, Free> model;
  std::unique_ptr<mjData, Free> data;
  struct Place {
    int body, q, v;  // numbers in MuJoCo: of the body, of its joint's first position and velocity
  };
  std::vector<Place> places;  // by body of the Tree
};

MujocoTree::MujocoTree(const Tree& tree, const TreeMotion& start) : impl_(std::make_unique<Impl>()) {
  mju_user_warning = [](const char*) {};  // or it writes a log file into the working folder; step() looks for itself
  Impl& w = *impl_;
  w.model.reset(compiled(tree_xml(tree)));
  w.data.reset(mj_makeData(w.model.get()));
  mjModel& m = *w.model;
  for (std::size_t i = 0; i < tree.bodies.size(); ++i) {
    const int body = mj_name2id(&m, mjOBJ_BODY, std::to_string(i).c_str());
    const int joint = m.body_jntadr[body];
    w.places.push_back({body, m.jnt_qposadr[joint], m.jnt_dofadr[joint]});
    put(principal(tree.bodies[i].props.inertia).moments, m.body_inertia + row(body, 3));
  }
  mj_setConst(&m, w.data.get());
  set(start);
}

MujocoTree::~MujocoTree() = default;
MujocoTree::MujocoTree(MujocoTree&&) noexcept = default;
MujocoTree& MujocoTree::operator=(MujocoTree&&) noexcept = default;

void MujocoTree::set(const TreeMotion& motion) {
  mjData& d = *impl_->data;
  const Impl::Place& base = impl_->places[0];
  put(motion.com, d.qpos + base.q);
  put(motion.q_GB, d.qpos + base.q + 3);
  put(motion.v, d.qvel + base.v);
  put(glm::conjugate(motion.q_GB) * motion.w, d.qvel + base.v + 3);
  for (std::size_t i = 1; i < impl_->places.size(); ++i) {
    d.qpos[impl_->places[i].q] = motion.angle[i];
    d.qvel[impl_->places[i].v] = motion.rate[i];
  }
}

void MujocoTree::step(const TreeForces& forces, double time_step, TreeMotion& motion) {
  mjModel& m = *impl_->model;
  mjData& d = *impl_->data;
  m.opt.timestep = time_step;
  put(forces.gravity, m.opt.gravity);
  mj_step1(&m, &d);  // places and speeds now
  for (std::size_t i = 0; i < impl_->places.size(); ++i) {
    const Impl::Place& at = impl_->places[i];
    const Vec3 com = vec(d.xipos + row(at.body, 3));
    put(forces.force[i], d.xfrc_applied + row(at.body, 6));
    put(forces.moment[i] + glm::cross(forces.about - com, forces.force[i]), d.xfrc_applied + row(at.body, 6) + 3);
    if (i > 0) d.qfrc_applied[at.v] = forces.torque[i];
  }
  mj_step2(&m, &d);
  if (std::any_of(d.warning, d.warning + mjNWARNING, [](const mjWarningStat& w) { return w.number > 0; }))
    throw std::runtime_error("MuJoCo: the numbers ran away");
  const Impl::Place& base = impl_->places[0];
  motion.com = vec(d.qpos + base.q);
  motion.q_GB = quat(d.qpos + base.q + 3);
  motion.v = vec(d.qvel + base.v);
  motion.w = motion.q_GB * vec(d.qvel + base.v + 3);
  for (std::size_t i = 1; i < impl_->places.size(); ++i) {
    motion.angle[i] = d.qpos[impl_->places[i].q];
    motion.rate[i] = d.qvel[impl_->places[i].v];
  }
}

}  // namespace sidehill
