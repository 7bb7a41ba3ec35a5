#include "sim/motion/machine_state_words.h"

#include <bit>
#include <stdexcept>

namespace sidehill {
namespace {

struct Writer {
  std::vector<std::uint64_t> words;
  void operator()(const double& x) { words.push_back(std::bit_cast<std::uint64_t>(x)); }
  void operator()(const long& x) { words.push_back(static_cast<std::uint64_t>(x)); }
  void operator()(const bool& x) { words.push_back(x ? 1 : 0); }
};

struct Reader {
  const std::vector<std::uint64_t>& words;
  std::size_t next = 0;
  std::uint64_t take() {
    if (next >= words.size()) throw std::invalid_argument("moment_of: too few words");
    return words[next++];
  }
  void operator()(double& x) { x = std::bit_cast<double>(take()); }
  void operator()(long& x) { x = static_cast<long>(take()); }
  void operator()(bool& x) { x = take() != 0; }
};

// Every member of a MachineState but what the next step makes anew without looking, in an order that is part of the
// file format.
template <class M, class Visit>
void each_member(M& m, Visit& visit) {
  const auto vec = [&](auto& v) { visit(v.x), visit(v.y), visit(v.z); };
  const auto all = [&](auto& list) {
    for (auto& x : list) visit(x);
  };
  visit(m.steps), visit(m.slope);
  auto& q = m.motion.q_GB;
  visit(q.w), visit(q.x), visit(q.y), visit(q.z);
  vec(m.motion.com), vec(m.motion.v), vec(m.motion.w);
  all(m.motion.angle), all(m.motion.rate);
  for (auto& b : m.bristle) visit(b.along), visit(b.across);
  all(m.brake_anchor), all(m.stuck_wind);
  visit(m.engine_rate), visit(m.clutch_wind), visit(m.front_wind), visit(m.boom_goal), visit(m.steer);
  visit(m.trailer_speed), visit(m.trailer_gap), visit(m.specific_force), visit(m.tied), vec(m.stake_G),
      visit(m.rope_length);
  for (auto& h : m.hull) visit(h.touching), vec(h.anchor_G);
  for (auto& c : m.contact) visit(c.penetration), vec(c.point_G), vec(c.normal_G), vec(c.forward_G);
  for (auto& f : m.force) visit(f.load), visit(f.along), visit(f.across), visit(f.sliding);
  visit(m.hull_touches), visit(m.frame_touches), visit(m.on_stop), visit(m.pull), vec(m.hitch_force);
}

}  // namespace

std::vector<std::uint64_t> words_of(const MachineState& moment) {
  Writer writer;
  writer.words.reserve(sizeof moment / 8 + 64);
  each_member(moment, writer);
  return std::move(writer.words);
}

MachineState moment_of(const std::vector<std::uint64_t>& words) {
  MachineState moment;
  Reader reader{words};
  each_member(moment, reader);
  // Across follows from the normal and the way it rolls, as tyre_contact has it.
  for (TyreContact& c : moment.contact) c.left_G = glm::cross(c.normal_G, c.forward_G);
  if (reader.next != words.size()) throw std::invalid_argument("moment_of: too many words");
  return moment;
}

bool same_bits(const MachineState& a, const MachineState& b) { return words_of(a) == words_of(b); }

}  // namespace sidehill
