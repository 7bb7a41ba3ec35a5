// Same scene, same program, same bits - whatever the size of the chunks, and on a second thread.
#include <doctest/doctest.h>

#include <thread>

#include "sim/motion/run.h"
#include "tests/kit/machines.h"

using namespace sidehill;

namespace {

std::vector<std::uint64_t> hashes(const Recording& recording) {
  std::vector<std::uint64_t> out;
  for (const State& state : recording.states) out.push_back(hash(state));
  return out;
}

Recording in_chunks(const Scene& scene, double chunk) {
  Runner runner(scene, build(scene));
  while (!runner.done()) runner.advance(chunk);
  return runner.recording();
}

}  // namespace

TEST_CASE("a scene run twice, in odd-sized chunks and on another thread gives the same bits") {
  for (const char* name : {"over_a_stump", "bucket_up"}) {
    const Scene scene = test_scene(name, {"programme.duration_s=5"});
    const std::vector<std::uint64_t> once = hashes(run(scene));
    REQUIRE(once.size() > 100);
    CHECK(hashes(run(scene)) == once);
    CHECK(hashes(in_chunks(scene, 0.0137)) == once);
    // Two threads at once, each with its own world.
    std::vector<std::uint64_t> here, there;
    std::thread one([&] { here = hashes(run(scene)); });
    std::thread other([&] { there = hashes(in_chunks(scene, 0.7)); });
    one.join();
    other.join();
    CHECK(here == once);
    CHECK(there == once);
  }
}

TEST_CASE("a world moved to another place in memory goes on with the same bits") {
  const Scene scene = test_scene("over_a_stump");
  Runner stays(scene, build(scene)), leaves(scene, build(scene));
  stays.advance(1);
  leaves.advance(1);
  Runner elsewhere = std::move(leaves);
  stays.advance(1);
  elsewhere.advance(1);
  CHECK(hash(elsewhere.state()) == hash(stays.state()));
}

TEST_CASE("a change of the scene changes the bits") {
  const Recording a = run(test_scene("first_slope", {"programme.duration_s=1"}));
  const Recording b = run(test_scene("first_slope", {"programme.duration_s=1", "ballast.loader_payload_kg=401"}));
  CHECK(hash(a.states.back()) != hash(b.states.back()));
}
