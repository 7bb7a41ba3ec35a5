// The files that people keep say their format; a later one is refused in one line, whichever reader gets it.
#include "sim/scene/file_format.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <vector>

#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/codes/rolling_file.h"
#include "sim/insight/lesson.h"
#include "sim/own_machine/made_machine.h"
#include "sim/own_machine/weighing_file.h"
#include "sim/scene/scene_file.h"
#include "tests/kit/folder.h"

using namespace sidehill;
namespace fs = std::filesystem;

namespace {

const fs::path kTop = SIDEHILL_SOURCE_DIR;

std::string refusal_of(const std::function<void()>& read) {
  try {
    read();
  } catch (const InputError& error) {
    return error.what();
  }
  return {};
}

// The first line of a file that is neither empty nor a comment.
std::string first_datum(const std::string& text) {
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = std::min(text.find('\n', from), text.size());
    if (to > from && text[from] != '#') return text.substr(from, to - from);
    from = to + 1;
  }
  return {};
}

MachineEntry some_entry() {
  return parse_entry("class = \"utility_75kw\"\nfront_axle_kg = 2050\nrear_axle_kg = 2700\n", "mine.toml");
}

struct Reader {
  const char* file;  // that comes with the program
  void (*read)(const fs::path& path);
};
constexpr Reader kReaders[] = {
    {"scenes/first_slope.toml", [](const fs::path& path) { load_scene(path); }},
    {"scenes/validate/vehicles/reference_r.toml", [](const fs::path& path) { load_machine(path.string(), {}); }},
    {"scenes/lessons/stump.toml", [](const fs::path& path) { load_lesson(path); }},
    {"scenes/weighing/utility_tractor.toml", [](const fs::path& path) { load_weighing(path); }},
    {"scenes/rolling_test/narrow_tractor.toml", [](const fs::path& path) { load_rolling_tractor(path); }},
};

}  // namespace

TEST_CASE("every file that comes with the program says its format first") {
  int seen = 0;
  for (const char* folder : {"scenes", "scenes/lessons", "scenes/validate", "scenes/validate/vehicles",
                             "scenes/weighing", "scenes/rolling_test", "vehicles"})
    for (const auto& entry : fs::directory_iterator(kTop / folder)) {
      if (entry.path().extension() != ".toml") continue;
      CAPTURE(entry.path().string());
      CHECK(first_datum(read_text(entry.path())) + "\n" == format_line());
      ++seen;
    }
  CHECK(seen >= 50);
}

TEST_CASE("every file that the program writes says its format first") {
  const MachineEntry entry = some_entry();
  for (const std::string& text : {write_scene(load_scene(kTop / "scenes/first_slope.toml")),
                                  write_machine(make_machine(entry), entry), write_entry(entry)})
    CHECK(first_datum(text) + "\n" == format_line());
}

TEST_CASE("a later format is refused by file and line before anything else, by every reader") {
  const Folder folder;
  for (const Reader& reader : kReaders) {
    CAPTURE(reader.file);
    const fs::path path = folder / "later.toml";
    save_text(path, "# from another year\nno_such_key = 1\nformat = 2\n");
    CHECK(refusal_of([&] { reader.read(path); }) ==
          path.string() + ":3: format: this file was written by a later version of Sidehill (format 2); allowed 1");
  }
  CHECK(refusal_of([] { parse_entry("format = 2\nno_such_key = 1\n", "mine.toml"); }) ==
        "mine.toml:1: format: this file was written by a later version of Sidehill (format 2); allowed 1");
}

TEST_CASE("a format that is none is refused by file and line, by every reader") {
  const Folder folder;
  for (const Reader& reader : kReaders)
    for (const auto& [said, words] :
         {std::pair("\"1\"", "a whole number belongs here, allowed 1"),
          std::pair("1.0", "a whole number belongs here, allowed 1"), std::pair("0", "0 is no format, allowed 1"),
          std::pair("-1", "-1 is no format, allowed 1")}) {
      CAPTURE(reader.file);
      const fs::path path = folder / "odd.toml";
      save_text(path, std::string("format = ") + said + "\n");
      CHECK(refusal_of([&] { reader.read(path); }) == path.string() + ":1: format: " + words);
    }
}

TEST_CASE("a file without a format is of the first") {
  const fs::path file = kTop / "scenes/first_slope.toml";
  std::string text = read_text(file);
  const std::string with = write_scene(parse_scene(text, file));
  text.erase(text.find(format_line()), format_line().size());
  CHECK(write_scene(parse_scene(text, file)) == with);
  const MachineEntry entry = some_entry();
  text = write_entry(entry);
  text.erase(text.find(format_line()), format_line().size());
  CHECK(write_entry(parse_entry(text, "mine.toml")) == write_entry(entry));
}

TEST_CASE("the format is no datum: a change on the command line does not know it") {
  Scene scene = load_scene(kTop / "scenes/first_slope.toml");
  CHECK(refusal_of([&] { apply_override(scene, "format=1"); }).starts_with("--set: format: unknown key"));
}
