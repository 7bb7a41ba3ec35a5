// What is laid over the picture or takes the set-up's place: pictures that leave the program, one's own machine, the
// lesson's card.
#include <fmt/format.h>

#include <utility>

#include "render/screen/desk/files.h"
#include "render/screen/desk/folders.h"
#include "render/screen/panels/panels.h"
#include "render/screen/panels/panels_filling.h"
#include "render/screen/panels/panels_job.h"
#include "render/screen/panels/panels_loader_map.h"
#include "render/screen/panels/panels_side_by_side.h"
#include "render/screen/panels/panels_slope_limit.h"
#include "render/screen/parts/ground_tools.h"
#include "render/screen/parts/weighing_form.h"

namespace sidehill::screen {
namespace {

// Over the picture; where large type leaves little of that, over what is below it as well.
Rect drawer_room(const Ui& ui, const Layout& layout) {
  Rect room = layout.view;
  if (room.height < ui.px(340)) room.height = layout.caution.y - room.y;
  return room;
}

void draw_make(Ui& ui, const Desk& desk, ViewChoices& choices, Rect view) {
  const float down = view.height < ui.px(300) ? ui.px(6) : ui.px(52);  // below the picture's own buttons
  ImGui::SetNextWindowPos({view.x + view.width - ui.px(12), view.y + down}, ImGuiCond_Always, {1, 0});
  ImGui::SetNextWindowSize({std::min(view.width - ui.px(24), ui.px(400)), 0});
  ImGui::SetNextWindowSizeConstraints({0, 0}, {view.width, std::max(1.f, view.height - down - ui.px(8))});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.f);
  ImGui::Begin("Pictures", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav | ImGuiWindowFlags_AlwaysAutoResize);
  const Lesson* lesson = desk.task == Task::teach && choices.lesson ? open_lesson_of(*choices.lesson) : nullptr;
  choices.making.folder = place_in(choices.pictures, export_file(choices.making)).parent_path().string();
  choices.making.has_run = desk.session.recording() != nullptr;
  choices.making.has_lesson = lesson;
  ExportAnswer answer = draw_export(ui, choices.making);
  if (answer.make) {
    if (answer.make->kind == ExportKind::handout && lesson) answer.make->lesson = *lesson;
    const std::string whole = place_in(choices.pictures, answer.make->file).string();
    if (may_write(choices, whole)) {
      choices.to_make = std::move(answer.make);
      choices.to_make->file = whole;  // so that the message says where it went
    }
  }
  if (answer.cancel) choices.cancel_making = true;
  if (answer.open_folder) open_folder(choices, choices.making.folder);
  if (button(ui, "Close pictures", Icon::close, "Back to the picture. Keys: Escape, E") || escape_pressed())
    pull(Drawer::none, choices);
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

void draw_own_machine(Ui& ui, Desk& desk, ViewChoices& choices, Rect area) {
  if (!choices.machine) choices.machine = open_machine_form({}, choices.units);
  MachineForm& form = *choices.machine;
  switch (draw_machine_form(ui, form, area)) {
    case MachineRequest::none:
      break;
    case MachineRequest::use:
      use_machine(desk, form.made);
      pull(Drawer::none, choices);
      look_as_scene(choices);
      break;
    case MachineRequest::save:
      try {
        const std::filesystem::path folder = machines_folder();
        std::error_code error;
        std::filesystem::create_directories(folder, error);
        const std::filesystem::path file = folder / machine_file_name(form);
        save_machine(form.made, form.entry, file);
        remember_file(choices.state_folder, file);
        form.message = "Saved: " + file.string();
      } catch (const std::exception& wrong) {
        form.message = wrong.what();
      }
      break;
    case MachineRequest::cancel:
      pull(Drawer::none, choices);
      break;
  }
  if (std::exchange(form.to_weigh, false)) pull(Drawer::weigh, choices);
}

}  // namespace

void open_folder(ViewChoices& choices, const std::filesystem::path& folder) {
  try {
    show_folder(folder);
    choices.making.said = "Shown in the file manager: " + folder.string();
  } catch (const std::exception& error) {
    choices.making.said = error.what();
  }
}

bool may_write(ViewChoices& choices, const std::string& whole) {
  std::error_code error;
  if (std::filesystem::exists(whole, error) && choices.replaces != whole) {
    choices.replaces = whole;
    choices.making.said = whole + " is there already: press once more to replace it";
    return false;
  }
  choices.replaces.clear();
  return true;
}

const std::vector<DrawerEntry>& drawers() {
  static const std::vector<DrawerEntry> list = {
      {Drawer::files, "Open", ctrl('o'),
       "Scenes, recorded runs, what was opened last, and saving. Ctrl+O. Or drop a file on the window",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         draw_files(ui, desk, choices, drawer_room(ui, layout));
       }},
      {Drawer::machine, "Machine", U'm', "One's own tractor from its plate, a weighbridge and a tape measure. Key: M",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         draw_own_machine(ui, desk, choices,
                          {0, layout.top.height, layout.caution.width, layout.caution.y - layout.top.height});
       }},
      {Drawer::ground, "Ground", U'w',
       "Bumps, holes, stumps and the machine itself put and moved with the mouse; what the ground is. Key: W",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout&) {
         if (std::optional<Scene> changed = draw_ground_menu(ui, choices.placing, desk.edited().scene()))
           desk.edited().edit(std::move(*changed));
       }},
      {Drawer::job, "Job", U'j', "What the machine is wanted for, the rules worst first, grip and fuel. Key: J",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         draw_job(ui, desk, choices, layout.view);
       }},
      {Drawer::filling, "Filling", U'q',
       "Both tyres cut open: drag the surface; litres, valve, level, gauge, frost, recipe; what gives way over the "
       "filling. Key: Q",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) { draw_filling(ui, desk, choices, layout); }},
      {Drawer::side_by_side, "Side by side", U'i',
       "Both set-ups in one table, the worst first: masses, slopes, loads, limits, slip, fuel, soil, frost, price. "
       "Key: I",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         draw_side_by_side(ui, desk, choices, layout);
       }},
      {Drawer::loader_map, "Loader", U'b',
       "Bucket height by load as a map: what gives way first, axle and tyre limits, the counterweight needed; drag the "
       "point. Key: B",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         draw_loader_map(ui, desk, choices, layout);
       }},
      {Drawer::slope_limit, "Slope limit", U'z',
       "The steepest slope on which the run ends well, for several speeds and heights of what lies in the way. Key: Z",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         draw_slope_limit(ui, desk, choices, layout);
       }},
      {Drawer::weigh, "Weigh", ctrl('k'),
       "Weighing for the centre of gravity, step by step with a drawing, straight into the machine. Ctrl+K",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         Session& session = desk.edited();
         if (!choices.weighing || choices.weighing->filled_for != session.scene().vehicle.name)
           choices.weighing = std::make_shared<WeighingForm>(weighing_form(session.scene(), choices.units));
         if (draw_weighing(ui, *choices.weighing, session,
                           {0, layout.top.height, layout.caution.width, layout.caution.y - layout.top.height}))
           pull(Drawer::none, choices);
       }},
      {Drawer::make, "Pictures", U'e', "Picture, film, chart or report as a file. Key: E",
       [](Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
         draw_make(ui, desk, choices, drawer_room(ui, layout));
       }},
  };
  return list;
}

namespace {

// A film or a hand-out of the open lesson.
void make_of_lesson(LessonPlay& play, ViewChoices& choices, ExportKind kind) {
  const Lesson* lesson = open_lesson_of(play);
  if (!lesson || choices.making.busy) return;
  ExportRequest request;
  request.kind = kind;
  request.lesson = *lesson;
  request.width = 1280, request.height = 720;
  request.paper = choices.making.paper;
  const char* ending = kind == ExportKind::film ? ".mp4" : ".pdf";
  request.file = place_in(choices.pictures, "lesson_" + lesson->file.stem().string() + ending).string();
  if (!may_write(choices, request.file)) {
    play.made = choices.making.said;
    return;
  }
  choices.to_make = std::move(request);
  play.made = kind == ExportKind::film ? "The film is being made ..." : "The hand-out is being made ...";
}

}  // namespace

DrawerWork attend_drawers(ViewChoices& choices) {
  DrawerWork out;
  if (choices.loader_map) {
    LoaderMap& map = choices.loader_map->map;
    if (choices.drawer != Drawer::loader_map) map.forget();
    out.news = map.advance();
    out.works = map.working();
  }
  if (choices.slope_limit) {  // it goes on while something else is looked at
    out.news = choices.slope_limit->search.advance() || out.news;
    out.works = choices.slope_limit->search.working() || out.works;
  }
  return out;
}

void play_lesson(Desk& desk, ViewChoices& choices) {
  LessonPlay& play = *choices.lesson;
  tick(play);
  LessonWishes wishes = std::move(play.wanted);
  play.wanted = {};
  if (!play.made.empty() && !choices.to_make && choices.replaces.empty()) {
    const ExportChoices& making = choices.making;
    if (making.busy && making.total > 0)
      play.made = fmt::format("The film: {} of {} pictures", making.done, making.total);
    else if (!making.busy && !making.said.empty())
      play.made = making.said;
  }
  if (wishes.film) make_of_lesson(play, choices, ExportKind::film);
  if (wishes.handout) make_of_lesson(play, choices, ExportKind::handout);
  if (wishes.load) {
    lay_lesson(desk, std::move(*wishes.load));
    look_as_scene(choices);
  }
  if (wishes.load_second) lay_lesson_beside(desk, std::move(*wishes.load_second));
  if (wishes.play) {
    reset(desk);
    play_all(desk);
  }
  const bool over = desk.session.finished() && (!desk.other || desk.other->finished());
  if (play.stage == LessonStage::showing && desk.session.started() && over && !playing(desk)) run_ended(play);
}

bool asks_first(const Desk& desk, const ViewChoices& choices) {
  const LessonPlay* play = desk.task == Task::teach && choices.lesson ? &*choices.lesson : nullptr;
  return play && play->stage == LessonStage::asking;
}

bool hides_numbers(const Desk& desk, const ViewChoices& choices) {
  return desk.task == Task::teach && choices.lesson && hides_answer(*choices.lesson);
}

}  // namespace sidehill::screen
