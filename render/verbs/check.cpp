// `sidehill check`: reads and builds files, and holds answers against what the files expect.
#include <fmt/format.h>

#include <filesystem>

#include "render/text/motion/expectations.h"
#include "render/text/rest/answer_json.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/text_file.h"
#include "sim/base/today.h"
#include "sim/plan/plan_log.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct CheckCommand {
  std::vector<std::string> files;
  bool json = false;
};

// A file in a folder called vehicles is a machine, any other a scene.
Scene read_for_check(const std::filesystem::path& path) {
  std::error_code error;
  if (std::filesystem::absolute(path, error).parent_path().filename() != "vehicles") return load_scene(path);
  read_text(path);  // a missing file or a folder is named as such
  Scene scene;
  MachineFile machine = load_machine(path.filename().string(), path.parent_path());
  scene.vehicle = std::move(machine.vehicle), scene.tolerances = std::move(machine.tolerances);
  return scene;
}

int check_verb(const CheckCommand& options) {
  nlohmann::ordered_json report = nlohmann::ordered_json::array();
  int code = kAnswered;
  for (const std::string& file : options.files) {
    nlohmann::ordered_json entry = {{"file", file}, {"ok", true}, {"answers", nlohmann::ordered_json::array()}};
    std::string lines = file + ": ok\n";
    try {
      const Scene scene = read_for_check(file);
      if (!scene.plan.made.empty() || !scene.plan.log.empty()) read_log(scene, file, today());
      of_scene(file, [&] {
        answer(scene, 1);
        std::size_t count = 0;
        for (const Held& held : held_against(scene)) {
          ++count;
          const Expect& e = held.expect;
          const std::string wanted = e.value ? fmt::format("{} +- {}", *e.value, e.tolerance) : "never";
          entry["answers"].push_back(
              {{"quantity", e.quantity}, {"ok", held.holds}, {"found", held.found}, {"wanted", wanted}});
          if (held.holds) continue;
          if (entry["ok"]) lines.clear();
          entry["ok"] = false;
          lines +=
              fmt::format("{}: expect: {} is {}, must be {} ({})\n", file, e.quantity, held.found, wanted, e.source);
        }
        if (entry["ok"] && count > 0)
          lines = fmt::format("{}: ok, {} {}\n", file, count, count == 1 ? "answer holds" : "answers hold");
        return 0;
      });
    } catch (const InputError& error) {
      entry["ok"] = false;
      entry["error"] = error.what();
      lines = std::string(error.what()) + "\n";
    }
    if (!entry["ok"]) code = kBadInput;
    report.push_back(entry);
    if (!options.json) fmt::print(entry["ok"] ? stdout : stderr, "{}", lines);
  }
  if (options.json) print(report);
  return code;
}

}  // namespace

VerbAction prepare_check(CLI::App& sub) {
  const auto asked = std::make_shared<CheckCommand>();
  sub.add_option("files", asked->files, "scene files, or machine files in a folder called vehicles")->required();
  take_json(sub, asked->json);
  return [asked] { return check_verb(*asked); };
}

}  // namespace sidehill
