// Planning on the desk: today's machine is A, the set-up chosen of the plan stands beside it.
#include <fmt/format.h>

#include <utility>

#include "render/screen/desk/desk.h"
#include "render/text/plan/plan_words.h"
#include "sim/base/errors.h"
#include "sim/base/text_file.h"
#include "sim/base/today.h"
#include "sim/plan/plan_log.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

void note_plan(Desk& desk) {
  desk.noted_edits = desk.session.edits();
  desk.noted_other_edits = desk.other ? desk.other->edits() : 0;
}

Scene scene_chosen(const Desk& desk) {
  return planned_scene(desk.planning->scene(), *desk.planning->plan(), *desk.planning->chosen());
}

// The same as it is printed: pages say that it is planned, and what is in the tyres today.
Scene plan_file_of_chosen(const Desk& desk) {
  return plan_file_scene(desk.planning->scene(), *desk.planning->plan(), *desk.planning->chosen(), today());
}

// The set-up chosen, on the ground of today's machine.
void stand_beside(Desk& desk) {
  if (!desk.planning->chosen()) return;
  if (desk.other)
    desk.other->open(plan_file_of_chosen(desk));
  else
    desk.other = std::make_unique<Session>(plan_file_of_chosen(desk));
  desk.stands_of = desk.planning->plan();
  share_ground_from_a(desk);
  note_plan(desk);
}

}  // namespace

bool plans(const Desk& desk) { return desk.task == Task::plan; }

const Scene* own_second(const Desk& desk) {
  if (plans(desk)) return desk.own_other ? &*desk.own_other : nullptr;
  return desk.other ? &desk.other->scene() : nullptr;
}

void enter_plan(Desk& desk) {
  note_edits(desk, true);
  reset(desk);  // both stand
  desk.session.set_loop(false);
  desk.session.loop_over({});
  if (desk.other) desk.own_other = desk.other->scene();
  desk.other.reset();
  desk.edits_other = false;
  desk.task = Task::plan;
  if (!desk.planning) desk.planning = std::make_unique<Planning>();
  note_plan(desk);
  const Planning& planning = *desk.planning;
  if (planning.plan()) stand_beside(desk);
  const PlanState state = plan_state(desk);
  if ((!planning.working() || planning.is_discarding()) && (state == PlanState::none || state == PlanState::of_older))
    begin_plan(desk);
}

void leave_plan(Desk& desk) {
  note_edits(desk, true);
  desk.other.reset();
  if (desk.own_other) {
    desk.other = std::make_unique<Session>(std::move(*desk.own_other));
    desk.other->set_rate(desk.session.rate());
  }
  desk.own_other.reset();
  desk.task = Task::check;
  note_plan(desk);
}

void begin_plan(Desk& desk) {
  if (!desk.planning || desk.session.scene().job.work == Work::none) return;
  desk.planning->begin(desk.session.scene());
}

bool attend_plan(Desk& desk) {
  if (!desk.planning) return false;
  const bool news = desk.planning->advance();
  const Plan* plan = desk.planning->plan();
  if (!plans(desk) || !plan || (desk.other && desk.stands_of == plan)) return news;
  stand_beside(desk);
  return true;
}

void choose_plan(Desk& desk, std::size_t place) {
  if (!desk.planning) return;
  desk.planning->choose(place);
  stand_beside(desk);
}

void choose_plan_point(Desk& desk, std::size_t place) {
  if (!desk.planning) return;
  desk.planning->choose_point(place);
  stand_beside(desk);
}

PlanState plan_state(const Desk& desk) {
  if (!desk.planning || !desk.planning->plan()) return PlanState::none;
  const Planning& planning = *desk.planning;
  const Scene& scene = desk.session.scene();
  if (!planning.is_of(scene, desk.session.edits()))
    return planning.is_in_use(scene, desk.session.edits()) ? PlanState::in_use : PlanState::of_older;
  return planning.is_of_question() ? PlanState::of_scene : PlanState::of_other_aim;
}

void use_plan(Desk& desk) {
  const PlanState state = plan_state(desk);
  if (!plans(desk) || (state != PlanState::of_scene && state != PlanState::of_other_aim)) return;
  Scene used = scene_chosen(desk);
  const Scene& today = desk.session.scene();
  used.title = today.title;
  used.terrain = today.terrain;
  desk.planning->use(used);
  desk.session.edit(std::move(used));
  note_edits(desk, true);
}

bool save_plan(Desk& desk, const std::filesystem::path& file) {
  try {
    if (!desk.planning || !desk.planning->chosen()) throw InputError("There is no plan yet");
    if (file.extension() != ".toml") throw InputError(file.string() + ": a scene's name ends in .toml");
    if (came_with_program(file))
      throw InputError(file.filename().string() + " came with the program: save under another name");
    refuse_to_lose_log(file);
    save_text(file, write_scene(plan_file_of_chosen(desk)));
    desk.message = file.string() + " is written";
    desk.message_is_bad = false;
    return true;
  } catch (const std::exception& error) {
    desk.message = error.what();
    desk.message_is_bad = true;
    return false;
  }
}

}  // namespace sidehill::screen
