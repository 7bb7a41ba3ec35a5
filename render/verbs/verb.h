// What a verb of the program is: a word of the command line with its options and what it does. Each stands in a file
// of its own, with a line in verbs.cpp.
#pragma once
#include <CLI/CLI.hpp>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/text/words/units.h"
#include "sim/base/errors.h"
#include "sim/scene/scene.h"

namespace sidehill {

using namespace text;
using namespace page;
using namespace screen;

// What is done once the command line has been read. Returns the exit code; throws InputError for bad input.
using VerbAction = std::function<int()>;

struct Example {
  const char* line;       // as typed
  const char* note = "";  // what it gives
};

struct Verb {
  const char* name;
  const char* help;                      // one line
  VerbAction (*prepare)(CLI::App& sub);  // gives `sub` its options; their values live as long as the action
  std::vector<Example> examples = {};    // for the help of the program
};

// In the order of the program's help.
const std::vector<Verb>& verbs();

// Arguments that many verbs take.
struct SceneArguments {
  std::string scene;                 // the file
  std::vector<std::string> changes;  // of --set
};
void take_scene(CLI::App& sub, SceneArguments& arguments, bool required = true);
void take_json(CLI::App& sub, bool& json);
void take_units(CLI::App& sub, Units& units);     // --units si|kn|us; JSON and CSV stay SI
void take_paper(CLI::App& sub, PaperSize& size);  // --paper a4|letter
void take_strict(CLI::App& sub, bool& strict);    // --strict: exit code kLimitBroken where a limit is not met

// Asks for an answer on a scene: an impossible machine is refused by its key, and the scene's name goes in front.
template <class Ask>
auto of_scene(const std::string& path, Ask ask) {
  try {
    return ask();
  } catch (const InputError& error) {
    throw InputError(path + ": " + error.what());
  }
}

}  // namespace sidehill
