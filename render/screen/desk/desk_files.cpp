// Opening and saving what lies on the desk.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "render/screen/desk/desk.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/motion/recording_file.h"
#include "sim/own_machine/made_machine.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace fs = std::filesystem;
namespace {

void say(Desk& desk, std::string text, bool bad = false) {
  desk.message = std::move(text);
  desk.message_is_bad = bad;
}

// A machine's file, which is no scene: its name stands where a scene has a title. Empty for anything else.
std::optional<MachineFile> machine_in(const fs::path& file) {
  try {
    const std::string text = read_text(file);
    if (!text.starts_with("name") && text.find("\nname") == std::string::npos) return {};
    return load_machine(fs::absolute(file).string(), {});
  } catch (const std::exception&) {
    return {};  // opened as a scene, the error will say what is wrong with it
  }
}

// What was before stays in the history; a new document begins.
void replace(Desk& desk, Document document) {
  desk.other.reset();
  desk.own_other.reset();
  if (desk.planning) desk.planning->forget();
  desk.edits_other = false;
  desk.session.loop_over({});
  if (desk.task == Task::compare) desk.task = Task::check;
  desk.documents.push_back(std::move(document));
  desk.document = static_cast<int>(desk.documents.size()) - 1;
}

void note(Desk& desk) {
  desk.noted_edits = desk.session.edits();
  desk.noted_other_edits = desk.other ? desk.other->edits() : 0;
  desk.history.note(work_of(desk));
}

}  // namespace

void open_scene(Desk& desk, Scene scene, fs::path file) {
  leave_lesson(desk);
  note_edits(desk, true);
  desk.session.set_loop(false);
  std::string saved = file.empty() ? std::string() : write_scene(scene);
  replace(desk, {std::move(file), std::move(saved)});
  desk.session.open(std::move(scene));
  note(desk);
  if (plans(desk)) begin_plan(desk);
}

void open_unsaved(Desk& desk, Scene scene, std::optional<Scene> beside) {
  open_scene(desk, std::move(scene), {});
  if (!beside) return;
  if (plans(desk)) go_to(desk, Task::check);
  desk.other = std::make_unique<Session>(std::move(*beside));
  desk.task = Task::compare;
  note(desk);
}

bool open_file(Desk& desk, const fs::path& file) {
  try {
    if (file.extension() == ".run") {
      Recording recording = load_recording(file);
      Scene scene = parse_scene(recording.scene_text, file);
      build(scene);                               // refused before anything is put away
      if (plans(desk)) go_to(desk, Task::check);  // it is to be seen running
      open_scene(desk, std::move(scene), {});     // in no file: saving must not replace the run
      desk.documents[static_cast<std::size_t>(desk.document)].saved = write_scene(desk.session.scene());
      desk.session.show(std::move(recording));
      note(desk);
    } else if (const std::optional<MachineFile> machine = machine_in(file)) {
      leave_lesson(desk);
      desk.edited().edit(with_vehicle(desk.edited().scene(), machine->vehicle, machine->tolerances));
    } else {
      open_scene(desk, load_scene(file), file);
    }
    say(desk, fmt::format("Opened {}", file.filename().string()));
    return true;
  } catch (const std::exception& error) {
    say(desk, error.what(), true);
    return false;
  }
}

void use_machine(Desk& desk, const MadeMachine& made) {
  Scene scene = with_machine(desk.edited().scene(), made);
  scene.title = scene.vehicle.name;
  scene.note.clear();  // it was about the machine before
  desk.edited().edit(std::move(scene));
  say(desk, "This machine is in this scene alone: Save keeps the scene, Save machine file the machine");
}

bool replaces_scene(const fs::path& file) { return file.extension() == ".run" || !machine_in(file); }

std::string window_title(const Desk& desk) {
  const std::string& title = desk.session.scene().title;
  return fmt::format("Sidehill - {}{}", title.empty() ? "untitled" : title,
                     desk.parked     ? " (lesson)"
                     : unsaved(desk) ? " (not saved)"
                                     : "");
}

bool came_with_program(const fs::path& file) {
  std::error_code error;
  const std::vector<fs::path> own = scene_files();
  if (own.empty()) return false;
  const fs::path folder = fs::weakly_canonical(own.front().parent_path(), error);
  const fs::path whole = fs::weakly_canonical(file, error);
  return fs::exists(whole, error) &&
         std::mismatch(folder.begin(), folder.end(), whole.begin(), whole.end()).first == folder.end();
}

bool save_file(Desk& desk, const fs::path& file) {
  try {
    if (file.extension() != ".toml") throw InputError(file.string() + ": a scene's name ends in .toml");
    if (came_with_program(file))
      throw InputError(file.filename().string() + " came with the program: save under another name");
    if (desk.parked) throw InputError("This is a lesson's scene: leave the lesson to save your own");
    note_edits(desk, true);
    std::string text = write_scene(desk.session.scene());
    save_text(file, text);
    desk.documents[static_cast<std::size_t>(desk.document)] = {file, std::move(text)};
    ++desk.saves;
    say(desk, fmt::format("Saved {}", file.filename().string()) + (desk.other && !plans(desk) ? ": set-up A" : ""));
    return true;
  } catch (const std::exception& error) {
    say(desk, error.what(), true);
    return false;
  }
}

bool unsaved(const Desk& desk) {
  const EditedScenes* own = desk.parked ? &*desk.parked : nullptr;
  const int document = own ? own->document : desk.document;
  const unsigned edits = own ? ~1u : desk.session.edits();
  if (desk.asked.edits != edits || desk.asked.document != document || desk.asked.saves != desk.saves) {
    const Scene& scene = own ? own->scene : desk.session.scene();
    const bool differs = write_scene(scene) != desk.documents[static_cast<std::size_t>(document)].saved;
    desk.asked = {edits, document, desk.saves, differs};
  }
  return desk.asked.unsaved;
}

void show_run(Desk& desk, const fs::path& file) {
  desk.session.show(load_recording(file));
  desk.documents = {{{}, write_scene(desk.session.scene())}};
  desk.document = 0;
  desk.noted_edits = desk.session.edits();
  desk.history.begin(work_of(desk));
}

bool worth_keeping(const Desk& desk) {
  if (unsaved(desk)) return true;
  if (desk.parked) return desk.parked->other && write_scene(*desk.parked->other) != write_scene(desk.parked->scene);
  const Scene* second = own_second(desk);
  return second && write_scene(*second) != write_scene(desk.session.scene());
}

}  // namespace sidehill::screen
