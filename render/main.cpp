// The one program: reads the command line and does what its verb says. Holds no verb, no physics and no drawing.
// Exit codes: 0 answered, 2 bad input, 3 the simulation diverged, or a recording run again came out differently, 4 a
// limit is not met (--strict).
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <string>

#include "render/verbs/arguments.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/motion/run.h"

namespace sidehill {
namespace {

constexpr const char* kAbout =
    "Sidehill shows whether a tractor with its ballast, its loader and its ground stays on its wheels, before you "
    "pump\n"
    "in a litre or bolt on a weight.";

constexpr const char* kMore = R"(
--set KEY=VALUE changes one value, in the file's unit; you may repeat it. += adds to a list:
  --set 'ballast.point_mass+={on="chassis", mass_kg=300, x_m=2.9, z_m=0.6}'

The program replaces an existing file only if you say yes, or with --force.

Cautions
  No slope is safe. Frame up and belt on, load low, slow; the maker's limits and local rules come first.
  An answer at rest does not include holes, soft ground, turns or the driver's actions.

Exit codes: 0 answered, 2 bad input (one line says which file, line and key), 3 no answer: no balance was
found, the simulation diverged, or a recorded run gave other values when run again, 4 with --strict, a limit is
not met.)";

std::string footer() {
  std::string text = "\nExamples\n";
  for (const Verb& verb : verbs())
    for (const Example& example : verb.examples)
      text += *example.note ? fmt::format("  {:<70}  {}\n", example.line, example.note)
                            : fmt::format("  {}\n", example.line);
  return text + kMore;
}

int parse_and_answer(int argc, char** argv) {
  CLI::App app{kAbout, "sidehill"};
  app.footer(footer());
  app.require_subcommand(1);
  app.set_version_flag("--version", "sidehill " SIDEHILL_VERSION);
  VerbAction action;
  for (const Verb& verb : verbs()) {
    CLI::App* sub = app.add_subcommand(verb.name, verb.help);
    sub->callback([&action, does = verb.prepare(*sub)] { action = does; });
  }

  check_command_word(app, argc, argv);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& wanted) {  // --help, --version
    return app.exit(wanted);
  } catch (const CLI::ParseError& error) {
    std::string line = error.what();
    for (char& c : line)
      if (static_cast<unsigned char>(c) < 0x20) c = ' ';
    throw InputError("sidehill: " + line + " (`sidehill --help` says more)");
  }
  return action();
}

}  // namespace
}  // namespace sidehill

int main(int argc, char** argv) {
  int code = sidehill::kBadInput;
  try {
    code = sidehill::parse_and_answer(argc, argv);
  } catch (const sidehill::Diverged& error) {
    fmt::print(stderr, "the simulation diverged: {}\n", error.what());
    return sidehill::kDiverged;
  } catch (const std::exception& error) {
    fmt::print(stderr, "{}\n", error.what());
    return sidehill::kBadInput;
  }
  if (std::fflush(stdout) != 0 || std::ferror(stdout)) {
    std::fputs("sidehill: the answer could not be written\n", stderr);
    return sidehill::kBadInput;
  }
  return code;
}
