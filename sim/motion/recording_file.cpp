#include "sim/motion/recording_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstring>

#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/motion/frame_codec.h"
#include "sim/motion/machine_state_words.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kMagic = "sidehill recording ";
constexpr int kFormat =
    1;  // to be raised when header, chunks or index change, or a MachineState's numbers mean another thing
constexpr std::size_t kChunk = 64;                                     // frames
constexpr std::size_t kEntry = 24;                                     // bytes of a chunk in the index
constexpr std::string_view kEnd = "end of run\n";                      // last bytes of the file
constexpr std::size_t kTrailer = 8 + 4 + kEnd.size();                  // place of the index, its check sum, kEnd
constexpr std::size_t kLongestHeader = std::size_t{64} * 1024 * 1024;  // bytes
const char* byte_order() { return std::endian::native == std::endian::little ? "little" : "big"; }

std::string bytes_of(const MachineState& moment) {
  const std::vector<std::uint64_t> words = words_of(moment);
  return {reinterpret_cast<const char*>(words.data()), 8 * words.size()};
}

std::size_t frame_bytes() {
  static const std::size_t bytes = 8 * words_of(MachineState{}).size();
  return bytes;
}

// Of what a MachineState starts as: changes when members come or go.
std::uint32_t layout_of_moment() { return check_sum(bytes_of(MachineState{})); }

template <class T>
void put(std::string& bytes, T value) {
  bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
}

template <class T>
T take(std::string_view& bytes) {
  T value;
  std::memcpy(&value, bytes.data(), sizeof value);
  bytes.remove_prefix(sizeof value);
  return value;
}

std::uint64_t hash_of(const State* begin, const State* end) {
  std::uint64_t all = 1469598103934665603ull;
  for (const State* state = begin; state != end; ++state) all = (all ^ hash(*state)) * 1099511628211ull;
  return all;
}

std::string without_controls(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](unsigned char c) { return c < 0x20; }, ' ');
  return text;
}

std::string header_of(const Recording& recording) {
  std::string text = fmt::format(
      "{}{}\nprogram {}\nbyte_order {}\nframe_bytes {}\nlayout {:08x}\nframe_step_s {}\nframes {}\noutcome {}\n"
      "divergence {}\nevents {}\n",
      kMagic, kFormat, recording.program_version, byte_order(), frame_bytes(), layout_of_moment(), recording.frame_step,
      recording.moments.size(), to_string(recording.outcome), without_controls(recording.divergence),
      recording.events.size());
  for (const Event& event : recording.events)
    text += fmt::format("{} time_s {} wheel {} slope_rad {}\n", to_string(event.kind), event.time, event.wheel,
                        event.slope);
  text += fmt::format("orders {}\n", recording.orders.size());
  for (const HandOrder& order : recording.orders)
    text += fmt::format("step {} speed {} steer {} brake {} boom {}\n", order.step, order.hand.speed, order.hand.steer,
                        order.hand.brake, order.hand.boom_angle ? fmt::format("{}", *order.hand.boom_angle) : "-");
  text += fmt::format("scene {}\n{}", recording.scene_text.size(), recording.scene_text);
  return text + fmt::format("header_sum {:08x}\n", check_sum(text));
}

[[noreturn]] void refuse_damaged(const fs::path& path, const std::string& what) {
  throw InputError(fmt::format("{}: the recording is cut short or damaged ({})", path.string(), what));
}

[[noreturn]] void refuse_other(const fs::path& path, const std::string& what) {
  throw InputError(
      fmt::format("{}: recorded by a program whose frames this one cannot read ({}); its scene can still be run again: "
                  "`sidehill replay FILE.run --scene` prints it",
                  path.string(), what));
}

// A header as lines, before they are understood; its check sum is right.
struct Header {
  std::vector<std::string> lines;  // without the scene
  std::string scene;
  std::size_t bytes = 0;
};

template <class T>
bool read_number(std::string_view text, T& value, int base = 10) {
  std::from_chars_result result{};
  if constexpr (std::is_floating_point_v<T>)
    result = std::from_chars(text.data(), text.data() + text.size(), value);
  else
    result = std::from_chars(text.data(), text.data() + text.size(), value, base);
  return result.ec == std::errc() && result.ptr == text.data() + text.size();
}

Header raw_header(const fs::path& path, std::ifstream& file) {
  check_plain_file(path);
  file.open(path, std::ios::binary);
  std::string magic(kMagic.size(), '\0');
  file.read(magic.data(), static_cast<std::streamsize>(magic.size()));
  if (!file || magic != kMagic)
    throw InputError(path.string() + ": is not a recording, allowed what `sidehill run SCENE --record FILE.run` wrote");
  std::error_code error;
  const std::uintmax_t bytes = fs::file_size(path, error);
  Header header;
  std::string text = magic, line;
  std::size_t scene_size = 0;
  while (true) {
    if (!std::getline(file, line) || file.eof() || text.size() + line.size() > kLongestHeader)
      refuse_damaged(path, "header");
    text += line + "\n";
    if (!line.starts_with("scene ")) {
      header.lines.push_back(line);
      continue;
    }
    if (!read_number(std::string_view(line).substr(6), scene_size) || error || scene_size > bytes)
      refuse_damaged(path, "scene");
    break;
  }
  header.scene.resize(scene_size);
  file.read(header.scene.data(), static_cast<std::streamsize>(scene_size));
  if (!file || !std::getline(file, line) || file.eof()) refuse_damaged(path, "scene");
  text += header.scene;
  if (line != fmt::format("header_sum {:08x}", check_sum(text))) refuse_damaged(path, "check sum of the header");
  header.bytes = text.size() + line.size() + 1;
  return header;
}

// Takes the header's lines one after the other.
struct Lines {
  const fs::path& path;
  const Header& header;
  std::size_t next = 1;  // behind the number of the format

  std::string_view value(std::string_view key) {
    if (next >= header.lines.size()) refuse_damaged(path, std::string(key));
    std::string_view line = header.lines[next++];
    if (!line.starts_with(key) || line.size() == key.size() || line[key.size()] != ' ')
      refuse_damaged(path, std::string(key));
    return line.substr(key.size() + 1);
  }
  template <class T>
  T number(std::string_view key, int base = 10) {
    T number{};
    if (!read_number(value(key), number, base)) refuse_damaged(path, std::string(key));
    return number;
  }
};

template <class Enum>
bool read_name(std::string_view name, Enum last, Enum& value) {
  for (int i = 0; i <= static_cast<int>(last); ++i) {
    value = static_cast<Enum>(i);
    if (name == to_string(value)) return true;
  }
  return false;
}

std::vector<std::string_view> words_of(std::string_view line) {
  std::vector<std::string_view> words;
  while (!line.empty()) {
    const std::size_t end = std::min(line.find(' '), line.size());
    words.push_back(line.substr(0, end));
    line.remove_prefix(std::min(end + 1, line.size()));
  }
  return words;
}

HandOrder read_order(const fs::path& path, std::string_view line) {
  const std::vector<std::string_view> words = words_of(line);
  HandOrder order;
  double boom = 0;
  if (words.size() != 10 || !read_number(words[1], order.step) || !read_number(words[3], order.hand.speed) ||
      !read_number(words[5], order.hand.steer) || !read_number(words[7], order.hand.brake) ||
      (words[9] != "-" && !read_number(words[9], boom)))
    refuse_damaged(path, "orders");
  if (words[9] != "-") order.hand.boom_angle = boom;
  return order;
}

Event read_event(const fs::path& path, std::string_view line) {
  const std::vector<std::string_view> words = words_of(line);
  Event event{};
  if (words.size() != 7 || !read_name(words[0], EventKind::at_rest, event.kind) || words[1] != "time_s" ||
      !read_number(words[2], event.time) || words[3] != "wheel" || !read_number(words[4], event.wheel) ||
      event.wheel < -1 || event.wheel >= kWheels || words[5] != "slope_rad" || !read_number(words[6], event.slope))
    refuse_damaged(path, "events");
  return event;
}

// A machine of the recorded scene, to be put into its moments.
World world_of(const Recording& recording, const fs::path& name) {
  const Model model = build(parse_scene(recording.scene_text, name));
  return World(model, Pose{}, 0);
}

State state_of(World& world, const MachineState& moment) {
  world.restore(moment);
  return world.state();
}

}  // namespace

std::vector<State> states_of(const Recording& recording) {
  World world = world_of(recording, "recording");
  std::vector<State> states;
  for (const MachineState& moment : recording.moments) states.push_back(state_of(world, moment));
  return states;
}

std::size_t write_recording(const Recording& recording, const fs::path& path) {
  const std::size_t frames = recording.moments.size();
  if (frames == 0 || recording.states.size() != frames)
    throw InputError(path.string() + ": cannot be written: the run has no frames to store");
  std::string text = header_of(recording), index;
  for (std::size_t begin = 0; begin < frames; begin += kChunk) {
    const std::size_t end = std::min(begin + kChunk, frames);
    std::string raw;
    for (std::size_t i = begin; i < end; ++i) raw += bytes_of(recording.moments[i]);
    const std::string packed = pack_frames(std::move(raw), frame_bytes());
    put(index, std::uint64_t{text.size()});
    put(index, static_cast<std::uint32_t>(packed.size()));
    put(index, check_sum(packed));
    put(index, hash_of(recording.states.data() + begin, recording.states.data() + end));
    text += packed;
  }
  put(index, std::uint64_t{text.size()});
  const std::uint32_t sum = check_sum(index);
  text += index;
  put(text, sum);
  text += kEnd;
  save_text(path, text);
  return text.size();
}

std::string scene_of_recording(const fs::path& path) {
  std::ifstream file;
  return raw_header(path, file).scene;
}

Recording load_recording(const fs::path& path) {
  RecordingFile file(path);
  Recording recording = file.about();
  for (std::size_t i = 0; i < file.frames(); ++i) {
    recording.states.push_back(file.state_at(i));
    recording.moments.push_back(file.moment_at(i));
  }
  return recording;
}

RecordingFile::RecordingFile(fs::path path) : path_(std::move(path)) {
  read_header();
  read_index();
}

const Recording& RecordingFile::about() const { return about_; }
std::size_t RecordingFile::frames() const { return frames_; }
std::size_t RecordingFile::bytes() const { return bytes_; }

void RecordingFile::read_header() {
  const Header header = raw_header(path_, file_);
  header_bytes_ = header.bytes;
  if (header.lines.empty() || header.lines[0] != std::to_string(kFormat))
    refuse_other(path_, fmt::format("format {}, allowed {}", header.lines.empty() ? "" : header.lines[0], kFormat));
  Lines lines{path_, header};
  about_.program_version = lines.value("program");
  const std::string_view order = lines.value("byte_order");
  const auto size = lines.number<std::size_t>("frame_bytes");
  const auto layout = lines.number<std::uint32_t>("layout", 16);
  if (order != byte_order() || size != frame_bytes() || layout != layout_of_moment())
    refuse_other(path_, "Sidehill " + about_.program_version);
  about_.frame_step = lines.number<double>("frame_step_s");
  frames_ = lines.number<std::size_t>("frames");
  if (!read_name(lines.value("outcome"), Outcome::diverged, about_.outcome)) refuse_damaged(path_, "outcome");
  about_.divergence = lines.value("divergence");
  const auto events = lines.number<std::size_t>("events");
  if (events >= header.lines.size() - lines.next) refuse_damaged(path_, "events");
  for (std::size_t i = 0; i < events; ++i) about_.events.push_back(read_event(path_, header.lines[lines.next++]));
  const auto orders = lines.number<std::size_t>("orders");
  if (orders != header.lines.size() - lines.next) refuse_damaged(path_, "orders");
  for (std::size_t i = lines.next; i < header.lines.size(); ++i)
    about_.orders.push_back(read_order(path_, header.lines[i]));
  about_.scene_text = header.scene;
  if (frames_ == 0 || !(about_.frame_step > 0)) refuse_damaged(path_, "frames");
}

void RecordingFile::read_index() {
  file_.seekg(0, std::ios::end);
  const std::streamoff end = file_.tellg();
  if (!file_ || end < 0) refuse_damaged(path_, "length");
  bytes_ = static_cast<std::size_t>(end);
  const std::size_t count = frames_ / kChunk + (frames_ % kChunk != 0);
  if (bytes_ < header_bytes_ + kTrailer || count > (bytes_ - header_bytes_ - kTrailer) / kEntry)
    refuse_damaged(path_, "length");
  const std::size_t index_at = bytes_ - kTrailer - count * kEntry;
  const std::string index = read(index_at, bytes_ - index_at);
  std::string_view rest = index;
  const std::uint32_t sum = check_sum(rest.substr(0, count * kEntry + 8));
  for (std::size_t i = 0; i < count; ++i) {
    Chunk chunk;
    chunk.offset = take<std::uint64_t>(rest);
    chunk.size = take<std::uint32_t>(rest);
    chunk.sum = take<std::uint32_t>(rest);
    chunk.states = take<std::uint64_t>(rest);
    chunks_.push_back(chunk);
  }
  const auto stated_at = take<std::uint64_t>(rest);
  if (take<std::uint32_t>(rest) != sum || rest != kEnd || stated_at != index_at) refuse_damaged(path_, "index");
  // One chunk follows the other, so that no byte of the file goes unchecked.
  std::uint64_t next = header_bytes_;
  for (const Chunk& chunk : chunks_) {
    if (chunk.offset != next) refuse_damaged(path_, "index");
    next += chunk.size;
  }
  if (next != index_at) refuse_damaged(path_, "index");
}

std::string RecordingFile::read(std::uint64_t offset, std::size_t size) {
  std::string bytes(size, '\0');
  file_.clear();
  file_.seekg(static_cast<std::streamoff>(offset));
  file_.read(bytes.data(), static_cast<std::streamsize>(size));
  if (!file_) refuse_damaged(path_, "length");
  return bytes;
}

void RecordingFile::need(std::size_t frame) {
  if (frame >= frames_) throw std::out_of_range("RecordingFile: no such frame");
  const std::size_t wanted = frame / kChunk;
  if (wanted == at_ && !moments_.empty()) return;
  moments_.clear();
  states_.clear();
  const Chunk& chunk = chunks_[wanted];
  const std::size_t count = std::min(kChunk, frames_ - wanted * kChunk);
  const std::string packed = read(chunk.offset, chunk.size);
  const auto raw = check_sum(packed) == chunk.sum ? unpack_frames(packed, frame_bytes(), count) : std::nullopt;
  if (!raw) refuse_damaged(path_, fmt::format("frames {} to {}", wanted * kChunk, wanted * kChunk + count - 1));
  std::vector<std::uint64_t> words(frame_bytes() / 8);
  for (std::size_t i = 0; i < count; ++i) {
    std::memcpy(words.data(), raw->data() + i * frame_bytes(), frame_bytes());
    moments_.push_back(moment_of(words));
  }
  at_ = wanted;
}

MachineState RecordingFile::moment_at(std::size_t frame) {
  need(frame);
  return moments_[frame % kChunk];
}

State RecordingFile::state_at(std::size_t frame) {
  need(frame);
  if (states_.empty()) {
    if (!world_) world_.emplace(world_of(about_, path_));
    for (const MachineState& moment : moments_) states_.push_back(state_of(*world_, moment));
    if (hash_of(states_.data(), states_.data() + states_.size()) != chunks_[at_].states) {
      states_.clear();
      refuse_other(path_, "Sidehill " + about_.program_version + ", whose machine stands otherwise in them");
    }
  }
  return states_[frame % kChunk];
}

std::size_t RecordingFile::frame_near(double time) {
  const std::size_t last = frames_ - 1;
  if (last == 0) return 0;
  const double begin = state_at(0).time, step = state_at(1).time - begin;
  const double at = std::round((time - begin) / step);
  const std::size_t frame = !(at > 0) ? 0 : at < static_cast<double>(last) ? static_cast<std::size_t>(at) : last;
  // The last one is stored when the run ends, which may be sooner than a whole step after the one before.
  if (frame + 1 < last) return frame;
  return 2 * time > state_at(last - 1).time + state_at(last).time ? last : last - 1;
}

}  // namespace sidehill
