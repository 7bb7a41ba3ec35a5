// Every body's frame sits at its centre of mass along the axes of its frame in the Tree.
#include "tests/witness/ode_tree.h"

#include <ode/ode.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

static_assert(sizeof(dReal) == 8, "a witness needs ODE in double precision");

namespace sidehill {
namespace {

constexpr double kTurn = 6.283185307179586;
constexpr double kPulledTogether = 0.2;  // share of a hinge's gap closed in a step, ODE's usual
constexpr double kYield = 0;             // a hinge gives nothing

Vec3 ode_vec(const dReal* v) { return {v[0], v[1], v[2]}; }
Quat ode_quat(const dReal* q) { return {q[0], q[1], q[2], q[3]}; }

// The library, made ready once.
struct Library {
  Library() {
    dInitODE2(0);
    if (!dCheckConfiguration("ODE_double_precision")) throw std::runtime_error("ODE is not in double precision");
  }
  ~Library() { dCloseODE(); }
};

}  // namespace

struct OdeTree::Impl {
  Tree tree;  // no body marked as round: here they turn
  dWorldID world = nullptr;
  std::vector<dBodyID> bodies;
  std::vector<dJointID> hinges;  // by body, [0] none
  std::vector<double> angle;     // with whole turns [rad]

  ~Impl() {
    if (world) dWorldDestroy(world);  // its bodies and joints too
  }
  Quat attitude(std::size_t i) const { return ode_quat(dBodyGetQuaternion(bodies[i])); }
  Vec3 turning(std::size_t i) const { return ode_vec(dBodyGetAngularVel(bodies[i])); }
  std::size_t parent(std::size_t i) const { return static_cast<std::size_t>(tree.bodies[i].parent); }
  Vec3 axis(std::size_t i) const { return attitude(parent(i)) * tree.bodies[i].axis; }
};

OdeTree::OdeTree(const Tree& tree, const TreeMotion& start) : impl_(std::make_unique<Impl>()) {
  static const Library library;
  Impl& w = *impl_;
  w.tree = tree;
  w.world = dWorldCreate();
  dWorldSetERP(w.world, kPulledTogether);
  dWorldSetCFM(w.world, kYield);
  dWorldSetAutoDisableFlag(w.world, 0);
  dWorldSetDamping(w.world, 0, 0);
  for (TreeBody& body : w.tree.bodies) {
    body.round = false;
    const Mat3& I = body.props.inertia;
    dMass mass;
    dMassSetParameters(&mass, body.props.mass, 0, 0, 0, I[0][0], I[1][1], I[2][2], I[1][0], I[2][0], I[2][1]);
    const dBodyID made = dBodyCreate(w.world);
    dBodySetMass(made, &mass);
    dBodySetFiniteRotationMode(made, 1);
    w.bodies.push_back(made);
    w.hinges.push_back(nullptr);
    w.angle.push_back(0);
  }
  for (std::size_t i = 1; i < w.bodies.size(); ++i) {
    w.hinges[i] = dJointCreateHinge(w.world, nullptr);
    dJointAttach(w.hinges[i], w.bodies[i], w.bodies[w.parent(i)]);
  }
  set(start);
}

OdeTree::~OdeTree() = default;
OdeTree::OdeTree(OdeTree&&) noexcept = default;
OdeTree& OdeTree::operator=(OdeTree&&) noexcept = default;

void OdeTree::set(const TreeMotion& motion) {
  Impl& w = *impl_;
  TreeNow now;
  look(w.tree, motion, now);
  for (std::size_t i = 0; i < w.bodies.size(); ++i) {
    const BodyNow& b = now[i];
    const Quat q = glm::quat_cast(b.R);
    const dQuaternion attitude = {q.w, q.x, q.y, q.z};
    const Vec3 v = b.v + glm::cross(b.w, b.com - b.p);
    dBodySetPosition(w.bodies[i], b.com.x, b.com.y, b.com.z);
    dBodySetQuaternion(w.bodies[i], attitude);
    dBodySetLinearVel(w.bodies[i], v.x, v.y, v.z);
    dBodySetAngularVel(w.bodies[i], b.w.x, b.w.y, b.w.z);
    w.angle[i] = motion.angle[i];
  }
  for (std::size_t i = 1; i < w.bodies.size(); ++i) {
    const BodyNow& b = now[i];
    dJointSetHingeAnchor(w.hinges[i], b.p.x, b.p.y, b.p.z);
    dJointSetHingeAxis(w.hinges[i], b.axis.x, b.axis.y, b.axis.z);
  }
}

void OdeTree::step(const TreeForces& forces, double time_step, TreeMotion& motion) {
  Impl& w = *impl_;
  dWorldSetGravity(w.world, forces.gravity.x, forces.gravity.y, forces.gravity.z);
  for (std::size_t i = 0; i < w.bodies.size(); ++i) {
    const Vec3& f = forces.force[i];
    Vec3 turn = forces.moment[i] + glm::cross(forces.about - ode_vec(dBodyGetPosition(w.bodies[i])), f);
    if (i > 0) {
      const Vec3 hinge = forces.torque[i] * w.axis(i);
      turn += hinge;
      dBodyAddTorque(w.bodies[w.parent(i)], -hinge.x, -hinge.y, -hinge.z);
    }
    dBodyAddForce(w.bodies[i], f.x, f.y, f.z);
    dBodyAddTorque(w.bodies[i], turn.x, turn.y, turn.z);
  }
  if (!dWorldStep(w.world, time_step)) throw std::runtime_error("ODE: no memory for a step");
  motion.com = ode_vec(dBodyGetPosition(w.bodies[0]));
  motion.q_GB = w.attitude(0);
  motion.v = ode_vec(dBodyGetLinearVel(w.bodies[0]));
  motion.w = w.turning(0);
  for (std::size_t i = 1; i < w.bodies.size(); ++i) {
    const Vec3& axis = w.tree.bodies[i].axis;
    const Quat turn = glm::conjugate(w.attitude(w.parent(i))) * w.attitude(i);
    const double angle = 2 * std::atan2(glm::dot(Vec3(turn.x, turn.y, turn.z), axis), turn.w);
    w.angle[i] += std::remainder(angle - w.angle[i], kTurn);
    motion.angle[i] = w.angle[i];
    motion.rate[i] = glm::dot(w.turning(i) - w.turning(w.parent(i)), w.axis(i));
  }
}

double OdeTree::gap() const {
  double widest = 0;
  for (std::size_t i = 1; i < impl_->hinges.size(); ++i) {
    dVector3 here, there;
    dJointGetHingeAnchor(impl_->hinges[i], here);
    dJointGetHingeAnchor2(impl_->hinges[i], there);
    widest = std::max(widest, glm::length(ode_vec(here) - ode_vec(there)));
  }
  return widest;
}

}  // namespace sidehill
