// Every link's frame sits at its centre of mass along its principal axes, as btMultiBody wants it.
#include "sim/motion/tree_bullet.h"

#include <BulletDynamics/Featherstone/btMultiBody.h>

#include <vector>

static_assert(sizeof(btScalar) == 8, "link Bullet's double-precision libraries (pkg-config bullet-float64)");

namespace sidehill {
namespace {

btVector3 bt(const Vec3& v) { return {v.x, v.y, v.z}; }
btQuaternion bt(const Quat& q) { return {q.x, q.y, q.z, q.w}; }
Vec3 from(const btVector3& v) { return {v.x(), v.y(), v.z()}; }
Quat from(const btQuaternion& q) { return {q.w(), q.x(), q.y(), q.z()}; }

}  // namespace

struct BulletTree::Impl {
  std::vector<TreeBody> bodies;
  Quat q_VB;  // principal axes of the base
  std::unique_ptr<btMultiBody> body;
  btAlignedObjectArray<btScalar> scratch_r;
  btAlignedObjectArray<btVector3> scratch_v;
  btAlignedObjectArray<btMatrix3x3> scratch_m;
};

BulletTree::BulletTree(const Tree& tree) : impl_(std::make_unique<Impl>()) {
  Impl& b = *impl_;
  b.bodies = tree.bodies;
  std::vector<Mat3> R_FL;  // principal axes of each body in its own frame
  for (const TreeBody& body : tree.bodies) R_FL.push_back(principal(body.props.inertia).R);
  const MassProperties& base = tree.bodies.front().props;
  b.q_VB = glm::quat_cast(R_FL[0]);
  b.body = std::make_unique<btMultiBody>(static_cast<int>(tree.bodies.size()) - 1, base.mass,
                                         bt(principal(base.inertia).moments), false, false);
  b.body->setLinearDamping(0);
  b.body->setAngularDamping(0);
  b.body->setMaxCoordinateVelocity(1e6);
  b.body->setMaxAppliedImpulse(1e12);
  for (std::size_t i = 1; i < tree.bodies.size(); ++i) {
    const TreeBody& link = tree.bodies[i];
    const std::size_t parent = static_cast<std::size_t>(link.parent);
    const Mat3 to_parent = glm::transpose(R_FL[parent]), to_link = glm::transpose(R_FL[i]);
    b.body->setupRevolute(static_cast<int>(i) - 1, link.props.mass, bt(principal(link.props.inertia).moments),
                          static_cast<int>(parent) - 1, bt(glm::quat_cast(to_link * R_FL[parent])),
                          bt(to_link * link.axis), bt(to_parent * (link.place - tree.bodies[parent].props.com)),
                          bt(to_link * link.props.com), true);
  }
  b.body->finalizeMultiDof();
}

BulletTree::~BulletTree() = default;
BulletTree::BulletTree(BulletTree&&) noexcept = default;
BulletTree& BulletTree::operator=(BulletTree&&) noexcept = default;

void BulletTree::step(const TreeNow& now, const TreeForces& forces, double time_step, TreeMotion& motion) {
  Impl& b = *impl_;
  btMultiBody& body = *b.body;
  body.clearForcesAndTorques();
  btTransform X;
  X.setOrigin(bt(motion.com));
  X.setRotation(bt(motion.q_GB * b.q_VB));
  body.setBaseWorldTransform(X);
  body.setBaseVel(bt(motion.v));
  body.setBaseOmega(bt(motion.w));
  for (std::size_t i = 0; i < b.bodies.size(); ++i) {
    const Vec3 f = forces.force[i] + b.bodies[i].props.mass * forces.gravity;
    const Vec3 torque = forces.moment[i] + glm::cross(forces.about - now[i].com, forces.force[i]);
    const int link = static_cast<int>(i) - 1;
    if (i == 0) {
      body.addBaseForce(bt(f));
      body.addBaseTorque(bt(torque));
      continue;
    }
    body.setJointPos(link, motion.angle[i]);
    body.setJointVel(link, motion.rate[i]);
    body.addLinkForce(link, bt(f));
    body.addLinkTorque(link, bt(torque));
    body.addJointTorque(link, forces.torque[i]);
  }
  body.computeAccelerationsArticulatedBodyAlgorithmMultiDof(time_step, b.scratch_r, b.scratch_v, b.scratch_m, false,
                                                            false, false);
  body.stepPositionsMultiDof(time_step);
  motion.com = from(body.getBaseWorldTransform().getOrigin());
  motion.q_GB = glm::normalize(from(body.getBaseWorldTransform().getRotation()) * glm::conjugate(b.q_VB));
  motion.v = from(body.getBaseVel());
  motion.w = from(body.getBaseOmega());
  for (std::size_t i = 1; i < b.bodies.size(); ++i) {
    motion.angle[i] = body.getJointPos(static_cast<int>(i) - 1);
    motion.rate[i] = body.getJointVel(static_cast<int>(i) - 1);
  }
}

}  // namespace sidehill
