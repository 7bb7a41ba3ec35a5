#include "render/screen/panels/panels_plan.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels_job.h"
#include "render/screen/parts/charts.h"
#include "render/text/plan/plan_columns.h"
#include "render/text/plan/plan_words.h"
#include "render/text/words/words.h"
#include "sim/scene/data_files.h"

namespace sidehill::screen {
namespace {

void plan_words(const Ui& ui, ImFont* font, Colour ink, const std::string& words) {
  ImGui::PushFont(font);
  ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(ink));
  wrapped_words(words);
  ImGui::PopStyleColor();
  ImGui::PopFont();
  ImGui::Dummy({0, ui.px(1)});
}

// It begins with a word in capitals.
bool is_grave_line(const std::string& line) {
  return line.size() > 2 && std::isupper(static_cast<unsigned char>(line[0])) &&
         std::isupper(static_cast<unsigned char>(line[1]));
}

// What is wrong with the plan itself, before all it says.
void draw_plan_state(Ui& ui, Desk& desk) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  std::string words;
  switch (plan_state(desk)) {
    case PlanState::none:
    case PlanState::of_scene:
      break;
    case PlanState::in_use:
      words = "This set-up is the machine now. The plan is of the machine before; Undo brings that back.";
      break;
    case PlanState::of_older:
      words = "OLD PLAN: the machine or the job has changed since. Press Plan again.";
      break;
    case PlanState::of_other_aim:
      words = "OLD PLAN: what decides has changed since. Press Plan again.";
      break;
  }
  if (!desk.planning->refusal().empty()) words = "NO PLAN: " + desk.planning->refusal();
  if (words.empty()) return;
  plan_words(ui, ui.fonts.text, is_grave_line(words) ? theme::kLifted : theme::kInk, words);
  remember_readout(ui, "Plan state",
                   {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ImGui::GetCursorScreenPos().y - corner.y});
}

// All of it, or the worst alone.
void draw_head(Ui& ui, const Plan& plan, bool whole) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const std::vector<std::string> lines = plan_head(plan, ui.units);
  for (std::size_t i = 0; i < (whole ? lines.size() : 1); ++i)
    plan_words(ui, i == 0 ? ui.fonts.text : ui.fonts.small, is_grave_line(lines[i]) ? theme::kLifted : theme::kInk,
               lines[i]);
  remember_readout(ui, "Plan head",
                   {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ImGui::GetCursorScreenPos().y - corner.y});
}

// Number, name in up to two lines, and what it gives, in one line each.
void draw_set_up_row(Ui& ui, Desk& desk, std::size_t place) {
  const Plan& plan = *desk.planning->plan();
  const ChosenPlan& one = plan.chosen[place];
  const bool pressed_in = desk.planning->chosen_place() == place;
  const std::string item = fmt::format("Set-up {}", place + 1);
  const std::string name = capital(read_in(plan_name(plan.ground, one.choice, one.measures), ui.units));
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, indent = ui.px(30);
  const float small = ui.fonts.small->FontSize;
  const std::vector<std::string> lines =
      broken(ui.fonts.text, ui.fonts.text->FontSize, name, width - indent - ui.px(8));
  const float line = ui.fonts.text->FontSize + ui.px(1);
  const float height = ui.px(6) + line * static_cast<float>(lines.size()) + small + ui.px(4);
  const Rect row{corner.x, corner.y, width, height};
  bool clicked = ImGui::InvisibleButton(item.c_str(), {width, height});
  remember(ui, item, row);
  if (reach(ui, item, row) && ui.enter) clicked = true;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  if (pressed_in || ImGui::IsItemHovered())
    list.AddRectFilled(row.low(), row.high(), colour(pressed_in ? theme::kCard : theme::kTrough), ui.px(5));
  if (pressed_in) list.AddRect(row.low(), row.high(), colour(theme::kAccent), ui.px(5), 0, ui.px(2));
  draw_plan_mark(ui, list, {corner.x + ui.px(14), corner.y + ui.px(15)}, place, one, pressed_in);
  float y = corner.y + ui.px(4);
  for (const std::string& words : lines) {
    text_at(list, ui.fonts.text, {corner.x + indent, y}, theme::kInk, words);
    y += line;
  }
  std::string gives = fmt::format("{} {}", column_names(PlanColumn::gives_way).head,
                                  column_words(PlanColumn::gives_way, one.measures, ui.units));
  if (one.range) gives += fmt::format(" ({})", range_words(one.range, ui.units));
  gives += fmt::format(", {} {}", column_names(PlanColumn::ballast).head,
                       column_words(PlanColumn::ballast, one.measures, ui.units));
  const bool bad = !one.barriers.empty();
  const float sign = bad ? ui.px(18) : 0;
  if (bad) draw_symbol(list, Tone::limit, {corner.x + indent + ui.px(6), y + small / 2}, ui.px(12), theme::kLifted);
  text_at(list, ui.fonts.small, {corner.x + indent + sign, y}, bad ? theme::kLifted : theme::kInkSoft,
          fitted(ui.fonts.small, gives, width - indent - sign - ui.px(6)));
  std::string help;
  for (const std::string& sentence : why_words(plan, one, ui.units)) help += (help.empty() ? "" : "\n") + sentence;
  tooltip(ui, help);
  if (clicked) choose_plan(desk, place);
}

Tone asked_tone(AskedState state) {
  switch (state) {
    case AskedState::met:
      return Tone::steady;
    case AskedState::may_not_hold:
      return Tone::near;
    case AskedState::not_met:
      return Tone::limit;
    case AskedState::not_known:
      break;
  }
  return Tone::unknown;
}

void draw_asked(Ui& ui, const Plan& plan, const ChosenPlan& one, bool range_is_coming) {
  constexpr const char* kStates[] = {"met", "MAY NOT HOLD", "NOT MET", "not known"};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  for (const AskedLine& line : asked_of(plan, one, ui.units)) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, row = ui.px(20);
    const Tone tone = asked_tone(line.state);
    draw_symbol(list, tone, {corner.x + ui.px(7), corner.y + ui.px(8)}, ui.px(12),
                tone == Tone::near ? theme::kInkSoft : fill_of(tone));
    const bool bad = line.state == AskedState::not_met || line.state == AskedState::may_not_hold;
    const bool waits = line.what == PlanBar::slope && line.state == AskedState::not_known && range_is_coming;
    const std::string right = waits ? "being worked out" : kStates[static_cast<int>(line.state)];
    text_at(list, ui.fonts.small, {corner.x + width, corner.y + ui.px(1)}, bad ? theme::kLifted : theme::kInk, right,
            1);
    text_at(list, ui.fonts.small, {corner.x + ui.px(20), corner.y + ui.px(1)}, bad ? theme::kLifted : theme::kInk,
            fitted(ui.fonts.small, capital(line.words), width - ui.px(28) - size_of(ui.fonts.small, right).x));
    hover_help(ui, fmt::format("Asked: {}", barrier_key(line.what)), {corner.x, corner.y, width, row},
               capital(line.words) + "." + (line.there.empty() ? "" : "\nThere: " + line.there + "."));
    ImGui::SetCursorScreenPos({corner.x, corner.y + row});
    ImGui::Dummy({0, 0});
  }
}

// The rules of the set-up that stands beside, worst first. What freezes is let out before the frost: no limit then.
void draw_rules_of_plan(Ui& ui, const Desk& desk, const ChosenPlan& one) {
  const Session& session = *desk.other;
  if (!session.model() || !session.refusal().empty()) return;
  std::vector<RuleAnswer> rules = worst_first(rules_on(session.scene(), *session.model()).rules);
  if (one.measures.drained) {
    std::erase_if(rules, [](const RuleAnswer& rule) { return rule.id == RuleId::frost; });
    soft_text(ui, "Frost: it freezes on the coldest night, so the plan lets it out before.", true);
  }
  draw_rule_checklist(ui, rules, session.scene(), " of the plan");
}

void draw_chosen(Ui& ui, Desk& desk) {
  const Plan& plan = *desk.planning->plan();
  const ChosenPlan& one = *desk.planning->chosen();
  section(ui, names_of_two(desk).second.c_str());
  if (!desk.planning->chosen_place())
    plan_words(ui, ui.fonts.text, theme::kInk,
               capital(read_in(plan_name(plan.ground, one.choice, one.measures), ui.units)));
  for (const std::string& sentence : why_words(plan, one, ui.units))
    plan_words(ui, ui.fonts.small, theme::kInk, sentence);
  std::string numbers;
  for (std::size_t k = 0; k < kPlanColumns; ++k)
    numbers += fmt::format("{}{} {}", k == 0 ? "" : ", ", column_names(static_cast<PlanColumn>(k)).head,
                           column_words(static_cast<PlanColumn>(k), one.measures, ui.units));
  plan_words(ui, ui.fonts.small, theme::kInk, capital(numbers) + ".");
  section(ui, "What is asked of it");
  draw_asked(ui, plan, one, desk.planning->range_is_coming());
  section(ui, "Rules", "worst first");
  if (desk.other) draw_rules_of_plan(ui, desk, one);
}

// Where there is no job yet: those that come with the program, a press each.
void offer_jobs(Ui& ui, Desk& desk) {
  plan_words(ui, ui.fonts.text, theme::kInk,
             "What is the machine wanted for? Press what comes nearest, or fill in the left.");
  const float width = ImGui::GetContentRegionAvail().x;
  for (const auto& file : job_files()) {
    std::string name = file.stem().string();
    std::ranges::replace(name, '_', ' ');
    if (!button(ui, capital(name), Icon::none, "Takes this job, and looks for a plan at once", false, width)) continue;
    take_job(desk.session, file);
    begin_plan(desk);
    break;
  }
}

void draw_found(Ui& ui, Desk& desk, ViewChoices& choices) {
  draw_plan_state(ui, desk);
  const Plan* plan = desk.planning->plan();
  if (!plan && !desk.planning->working() && desk.session.scene().job.work == Work::none) return offer_jobs(ui, desk);
  if (!plan) {
    soft_text(ui,
              desk.planning->working()
                  ? "Every way to ballast this machine is being looked at."
                  : "Press Plan on the left: the program looks at every way to ballast this machine with what is on "
                    "hand.",
              true);
    return;
  }
  draw_head(ui, *plan, !choices.plan.why);
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(4), ui.px(4)));
  if (button(ui, "Set-ups", Icon::none, "The few worth choosing; click one", !choices.plan.why))
    choices.plan.why = false;
  ImGui::SameLine();
  if (button(ui, "Why and rules", Icon::none, "Why this one, what is asked of it, and its rules as a checklist",
             choices.plan.why))
    choices.plan.why = true;
  ImGui::PopStyleVar();
  if (choices.plan.why) {
    draw_chosen(ui, desk);
  } else {
    for (std::size_t place = 0; place < plan->chosen.size(); ++place) draw_set_up_row(ui, desk, place);
  }
  section(ui, "How sure");
  plan_words(ui, ui.fonts.small, theme::kInkSoft, count_words(*plan));
  plan_words(ui, ui.fonts.small, theme::kInkSoft, read_in(kPlanEstimates, ui.units));
}

}  // namespace

std::pair<std::string, std::string> names_of_two(const Desk& desk) {
  if (!plans(desk)) return {"A", "B"};
  const auto place = desk.planning ? desk.planning->chosen_place() : std::nullopt;
  return {"Today", place ? fmt::format("Set-up {}", *place + 1) : std::string("Set-up")};
}

std::string plan_hindrance(const Desk& desk) {
  switch (plan_state(desk)) {
    case PlanState::none:
      return "There is no plan yet";
    case PlanState::of_older:
      return "The machine or the job has changed since: plan again first";
    case PlanState::of_scene:
    case PlanState::in_use:
    case PlanState::of_other_aim:
      break;
  }
  return "";
}

void draw_plan_found(Ui& ui, Desk& desk, ViewChoices& choices) {
  if (!desk.planning) return;
  const bool pages = desk.planning->plan() != nullptr;
  ImGui::BeginChild("##found", {0, pages ? -std::max(1.f, choices.plan.pages_foot) : 0});
  draw_found(ui, desk, choices);
  ImGui::EndChild();
  if (!pages) return;
  const float top = ImGui::GetCursorScreenPos().y;
  draw_plan_pages(ui, desk, choices);
  choices.plan.pages_foot = ImGui::GetCursorScreenPos().y - top + ui.px(4);
}

}  // namespace sidehill::screen
