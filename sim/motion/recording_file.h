// Recordings as files (.run): small, one frame to be had without the others, bit for bit. Knows no window.
//
// First a header in words: what kind of file, program version, layout of a frame, outcome, events, the scene in full,
// each on its line, and a check sum. Then the MachineStates of all frames in chunks of 64 (sim/motion/frame_codec.h),
// an index (place, size and check sum of every chunk, and a check sum of the states its MachineStates must give), and
// where the index begins. States are not stored: they follow from the MachineStates.
#pragma once
#include <filesystem>
#include <fstream>
#include <optional>

#include "sim/motion/machine_state_words.h"
#include "sim/motion/recording.h"
#include "sim/motion/world.h"

namespace sidehill {

// To a temporary name, then renamed. Returns the size of the file in bytes. Throws InputError if it cannot be written.
std::size_t write_recording(const Recording& recording, const std::filesystem::path& path);

// The whole of it, as it was written. Throws InputError for what is no recording, cut short, damaged, or of a program
// whose frames this one cannot read; as do all below.
Recording load_recording(const std::filesystem::path& path);

// The scene alone, with every value written out. Read from a recording of any version, and from one that is cut short
// behind it.
std::string scene_of_recording(const std::filesystem::path& path);

// The states of a recording's moments, bit for bit as they were when it was made.
std::vector<State> states_of(const Recording& recording);

// One recording open for looking at single frames; reads header and index, and of the frames only what is asked.
class RecordingFile {
 public:
  explicit RecordingFile(std::filesystem::path path);
  const Recording& about() const;  // without its states and moments
  std::size_t frames() const;      // at least one
  std::size_t bytes() const;       // size of the file
  MachineState moment_at(std::size_t frame);
  State state_at(std::size_t frame);
  std::size_t frame_near(double time);  // the frame stored nearest to a time [s]

 private:
  struct Chunk {
    std::uint64_t offset = 0;
    std::uint32_t size = 0, sum = 0;
    std::uint64_t states = 0;  // hash over the hashes of its states
  };
  void read_header();
  void read_index();
  void need(std::size_t frame);
  std::string read(std::uint64_t offset, std::size_t size);
  std::filesystem::path path_;
  std::ifstream file_;
  Recording about_;
  std::size_t frames_ = 0, bytes_ = 0, header_bytes_ = 0;
  std::vector<Chunk> chunks_;
  // The chunk read last.
  std::size_t at_ = 0;
  std::vector<MachineState> moments_;
  std::vector<State> states_;
  std::optional<World> world_;
};

}  // namespace sidehill
