// Left, while planning: the job, what is asked, and how far the search has come.
#include <fmt/format.h>

#include <algorithm>

#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels_job.h"
#include "render/screen/panels/panels_plan.h"
#include "render/text/plan/plan_words.h"
#include "render/text/words/words.h"

namespace sidehill::screen {
namespace {

constexpr double kMostLeft = 20, kLeastSlip = 0.02, kMostSlip = 0.3, kUsualSlip = 0.12;  // of the sliders [deg], [-]

std::vector<std::string> aim_words() {
  std::vector<std::string> words;
  for (const auto& aim : kPlanAims) {
    words.emplace_back(aim.key);
    std::ranges::replace(words.back(), '_', ' ');
  }
  return words;
}

// What the plan may use.
void draw_on_hand(Ui& ui, const Job& job) {
  section(ui, "On hand or for sale");
  if (job.media.empty() && job.weights.empty() && job.wheels.empty())
    soft_text(ui, "Nothing is listed: only emptying, taking off and less pressure are looked at.", true);
  for (const MediumOnHand& one : job.media)
    soft_text(ui,
              fmt::format("{}: {}", capital(medium_name({one.medium, 0, nullptr})),
                          one.volume > 0 ? shown(Quantity::volume, one.volume, ui.units) : "as much as is wanted"),
              true);
  for (const WeightOnHand& one : job.weights) {
    std::string place(kWeightPlaces[static_cast<std::size_t>(one.place)].key);
    std::ranges::replace(place, '_', ' ');
    soft_text(ui,
              fmt::format("{:.0f} x {}, {} each, {}", one.pieces, one.name.empty() ? "weight" : one.name,
                          shown(Quantity::mass, one.mass, ui.units), place),
              true);
  }
  for (const WheelsOnHand& one : job.wheels) soft_text(ui, capital(wheels_words(one)), true);
}

void draw_question(Ui& ui, Planning& planning, const Job& job) {
  section(ui, "What decides");
  soft_text(ui, "Best by");
  ImGui::SameLine(ui.px(96));
  int aim = static_cast<int>(planning.asked.aim);
  if (choice(ui, "Best by", aim_words(), aim,
             "What decides between plans that hold. Balanced: fewest targets missed, then least ballast, then least "
             "effort",
             ImGui::GetContentRegionAvail().x))
    planning.asked.aim = static_cast<PlanAim>(aim);
  SliderLook left;
  left.label = "Degrees to keep", left.unit = "°";
  left.max = kMostLeft, left.step = 0.5;
  left.digits = 1;
  left.help = "So many degrees must be left on the job's steepest slope";
  double degrees_left = planning.asked.left / kDegree;
  if (slider(ui, left, degrees_left)) planning.asked.left = std::clamp(degrees_left, 0.0, kMostLeft) * kDegree;
  if (!(job.pull > 0)) {
    planning.asked.slip.reset();  // there is nothing to slip under
    return;
  }
  bool limited = planning.asked.slip.has_value();
  if (tick(ui, "Limit the slip", limited, "The rear wheels may slip no more than this under the job's pull"))
    planning.asked.slip = limited ? std::optional(kUsualSlip) : std::nullopt;
  if (!planning.asked.slip) return;
  SliderLook slip;
  slip.label = "Slip at most", slip.unit = "%";
  slip.min = kLeastSlip, slip.max = kMostSlip, slip.step = 0.005;
  slip.shown_factor = 100;
  slip.digits = 1;
  double most = *planning.asked.slip;
  if (slider(ui, slip, most)) planning.asked.slip = std::clamp(most, kLeastSlip, kMostSlip);
}

void draw_search(Ui& ui, Desk& desk) {
  Planning& planning = *desk.planning;
  const bool has_job = desk.session.scene().job.work != Work::none;
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::Dummy({0, ui.px(2)});
  if (planning.working()) {
    if (button(ui, "Stop", Icon::none, "Ends the search; what was found so far is shown", true, width,
               !planning.stopping()))
      planning.stop();
    const std::optional<double> left = planning.time_left();
    draw_share(ui, "Search", planning.share(),
               planning.stopping()     ? "Stopping: what was found so far comes in a moment"
               : planning.share() >= 1 ? "Searching: the best are looked at closely"
               : left ? fmt::format("Searching: {}, about {:.0f} s left", percent(planning.share()), *left)
                      : fmt::format("Searching: {}", percent(planning.share())));
    return;
  }
  const PlanState state = plan_state(desk);
  const bool fresh = state == PlanState::of_scene && !planning.plan()->stopped;
  if (button(ui, state == PlanState::none ? "Plan" : "Plan again", Icon::none,
             has_job ? "Looks at every way to ballast this machine with what is on hand" : "Choose a job above first",
             !fresh, width, has_job))
    begin_plan(desk);
  remember_readout(ui, "Plan it", ui.items[state == PlanState::none ? "Plan" : "Plan again"]);
}

}  // namespace

void draw_plan_ask(Ui& ui, Desk& desk, ViewChoices& choices) {
  if (!desk.planning) return;
  const float foot = choices.plan.ask_foot;
  ImGui::BeginChild("##job form", {0, -std::max(1.f, foot)});
  section(ui, "Job");
  const bool has_job = desk.session.scene().job.work != Work::none;
  if (!has_job) soft_text(ui, "What is the machine wanted for? Choose a job, then change what differs.", true);
  draw_job_form(ui, desk.session, true);
  draw_on_hand(ui, desk.session.scene().job);
  ImGui::EndChild();
  const float top = ImGui::GetCursorScreenPos().y;
  draw_question(ui, *desk.planning, desk.session.scene().job);
  draw_search(ui, desk);
  choices.plan.ask_foot = ImGui::GetCursorScreenPos().y - top + ui.px(4);
}

}  // namespace sidehill::screen
