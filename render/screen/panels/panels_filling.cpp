#include "render/screen/panels/panels_filling.h"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <utility>

#include "render/screen/desk/verdict.h"
#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels_plan.h"
#include "sim/base/errors.h"
#include "sim/job/rules.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

// Below these there is one column that scrolls [px at scale 1].
constexpr double kWideFrom = 1040, kHighFrom = 520;
constexpr double kTwoWheelsFrom = 620;  // two wheels beside each other in it
constexpr double kFactsHeight = 62;     // always as high: the wheel must not move under the mouse that drags it

// The same of the job's slope as the session has worked it out: the weakest of its headings.
std::optional<JobSlope> job_slope_of(const Session& session) {
  const SetUpAnswer* set_up = session.turned_is_known() ? session.set_up() : nullptr;
  const Job& job = session.scene().job;
  if (!set_up || job.work == Work::none || !(job.slope > 0)) return std::nullopt;
  JobSlope slope;
  slope.slope = job.slope;
  slope.as_is = set_up->on_job;
  slope.range = set_up->on_job_range;
  return slope;
}

// The facts of both axles in one order. What both say stands there once, anything else names its axle.
std::vector<FillingFact> facts_of(const KnownFilling& known, Units units) {
  std::array<std::vector<FillingFact>, 2> of;
  for (std::size_t i = 0; i < 2; ++i)
    if (known.axles[i]) of[i] = ranked_facts(*known.axles[i], units);
  std::vector<FillingFact> all;
  for (std::size_t i = 0; i < 2; ++i)
    for (FillingFact fact : of[i]) {
      const bool shared = std::ranges::find(of[1 - i], fact.words, &FillingFact::words) != of[1 - i].end();
      if (shared && i == 1) continue;
      if (!shared) fact.words = axle_title(*known.axles[i]) + ": " + fact.words;
      all.push_back(std::move(fact));
    }
  std::ranges::stable_sort(all, {}, &FillingFact::rank);
  return all;
}

std::size_t stamp_of(const Session& session) { return std::hash<std::string>{}(write_scene(session.scene())); }

void draw_facts(Ui& ui, const Session& session, const KnownFilling& known) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::BeginChild("Filling facts", {0, ui.px(kFactsHeight)});
  bool first = true;
  const auto say = [&](const std::string& words, bool grave) {
    ImGui::PushFont(first ? ui.fonts.text : ui.fonts.small);
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(grave ? theme::kLifted : theme::kInk));
    const ImVec2 from = ImGui::GetCursorScreenPos();
    wrapped_words(words);
    if (first) remember_readout(ui, "Filling: worst", {from.x, from.y, width, ImGui::GetCursorScreenPos().y - from.y});
    ImGui::PopStyleColor();
    ImGui::PopFont();
    first = false;
  };
  if (!known.refusal.empty()) {
    say("This machine cannot exist: " + known.refusal, true);
  } else {
    const bool answered = session.answer_is_of_scene() && session.refusal().empty() && session.model();
    const Verdict verdict = answered ? verdict_of(session, ui.units) : Verdict{};
    const bool grave = answered && is_grave(session.verdict().headline);
    // What gives way or is ice now comes before what the coldest night does, and that before too much load.
    const bool now = grave && session.verdict().headline <= StandCause::frozen;
    const std::string stands = verdict.title.empty() ? "Being worked out."
                                                     : fmt::format("{}: {}{}{}", verdict.title, verdict.number,
                                                                   verdict.number.empty() ? "" : " ", verdict.detail);
    if (now) say(stands, true);
    // The worst of it may be yet to come.
    const Job& job = session.scene().job;
    if (!known.job_known && job.work != Work::none && job.slope > 0)
      say(fmt::format("NOT KNOWN YET whether it stands on the job's {}: being worked out.",
                      degrees_and_percent(job.slope)),
          false);
    for (const FillingFact& fact : known.facts)
      if (fact.grave) say(fact.words, true);
    if (!now) say(stands, grave);
    for (const std::string& more : verdict.more) say(more, grave);
    for (const FillingFact& fact : known.facts)
      if (!fact.grave) say(fact.words, false);
  }
  ImGui::EndChild();
  ImGui::SetCursorScreenPos({corner.x, corner.y + ui.px(kFactsHeight + 4)});
}

void draw_head(Ui& ui, Desk& desk, ViewChoices& choices) {
  if (button(ui, "Close the filling", Icon::close, "Back to the picture. Keys: Escape, Q") || escape_pressed())
    pull(Drawer::none, choices);
  if (desk.compares()) {
    ImGui::SameLine(0, ui.px(16));
    draw_which(ui, desk);
    return;
  }
  if (!two_shown(desk)) return;
  ImGui::SameLine(0, ui.px(16));
  soft_text(ui, names_of_two(desk).first + " is changed here.");
}

void draw_two_wheels(Ui& ui, const FillingSide& side, float width, float wheel_height) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float half = (width - ui.px(14)) / 2;
  draw_filling_wheel(ui, side, true, half, wheel_height);
  const float foot = ImGui::GetCursorScreenPos().y;
  ImGui::SetCursorScreenPos({corner.x + half + ui.px(14), corner.y});
  draw_filling_wheel(ui, side, false, half, wheel_height);
  ImGui::SetCursorScreenPos({corner.x, std::max(foot, ImGui::GetCursorScreenPos().y)});
}

void draw_two_rows(Ui& ui, const FillingSide& side, float width) {
  const ImVec2 top = ImGui::GetCursorScreenPos();
  const float half = (width - ui.px(14)) / 2;
  draw_filling_rows(ui, side, true, half);
  const float foot = ImGui::GetCursorScreenPos().y;
  ImGui::SetCursorScreenPos({top.x + half + ui.px(14), top.y});
  draw_filling_rows(ui, side, false, half);
  ImGui::SetCursorScreenPos({top.x, std::max(foot, ImGui::GetCursorScreenPos().y)});
  ImGui::Dummy({1, 1});
}

// Wheels and their rows on the left, curves on the right, all in view but the rows.
void draw_wide(Ui& ui, Desk& desk, FillingPage& page, const FillingSide& side) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const float left = std::floor(room.x * 0.55f), wheel_height = std::max(ui.px(120), room.y * 0.34f);
  draw_two_wheels(ui, side, left, wheel_height);
  const float y = ImGui::GetCursorScreenPos().y + ui.px(4);
  ImGui::SetCursorScreenPos({corner.x, y});
  ImGui::BeginChild("Filling rows", {left, std::max(ui.px(40), corner.y + room.y - y)}, false);
  draw_two_rows(ui, side, ImGui::GetContentRegionAvail().x);
  ImGui::EndChild();
  const float x = corner.x + left + ui.px(18);
  draw_filling_curves(ui, desk, page, {x, corner.y, corner.x + room.x - x, room.y});
}

// Curves below the wheels, in a narrow window one wheel below the other: the page scrolls.
void draw_narrow(Ui& ui, Desk& desk, FillingPage& page, const FillingSide& side) {
  const float width = ImGui::GetContentRegionAvail().x;
  const bool beside = width >= ui.px(kTwoWheelsFrom);
  if (beside) {
    draw_two_wheels(ui, side, width, std::min(ui.px(230), width * 0.3f));
    draw_two_rows(ui, side, width);
  }
  for (const bool front : {false, true}) {
    if (beside) break;
    const float high = std::min(ui.px(230), width * 0.6f);
    draw_filling_wheel(ui, side, front, width, high);
    draw_filling_rows(ui, side, front, width);
    ImGui::Dummy({1, ui.px(10)});
  }
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float high = ui.px(620);
  draw_filling_curves(ui, desk, page, {corner.x, corner.y, width, high});
  ImGui::SetCursorScreenPos({corner.x, corner.y + high});
  ImGui::Dummy({1, 1});
}

}  // namespace

void look_at(KnownFilling& known, const Session& session, bool over_front, Units units) {
  const bool job_known = session.turned_is_known(), us = units == Units::us;
  const std::size_t stamp = stamp_of(session);
  if (known.stamp == stamp && known.over_front == over_front && known.job_known == job_known && known.us == us) return;
  known = {};
  known.stamp = stamp;
  known.over_front = over_front, known.job_known = job_known, known.us = us;
  const Scene& scene = session.scene();
  try {
    const Model model = build(scene, session.model());
    const RuleReport rules = rules_on(scene, model);
    for (const bool front : {true, false}) {
      const std::size_t i = front ? 0 : 1;
      try {
        known.axles[i] = axle_filling(scene, rules, front);
        known.axles[i]->job_slope = job_slope_of(session);
        known.rows[i] = filling_rows(*known.axles[i], units);
      } catch (const InputError& error) {
        known.refused[i] = error.what();
      }
    }
    known.point = fill_point(scene, model, over_front);
  } catch (const InputError& error) {
    known.refusal = error.what();
  }
  known.facts = facts_of(known, units);
}

bool attend_filling(const ViewChoices& choices) {
  return choices.filling && choices.drawer == Drawer::filling && choices.filling->curves.advance();
}

bool filling_works(const ViewChoices& choices) {
  return choices.filling && choices.drawer == Drawer::filling && choices.filling->curves.working();
}

namespace {

// Wheels and curves are windows of their own within the page: it is the page that scrolls to what the keyboard is on.
void scroll_to_focus(const Ui& ui, std::size_t first) {
  if (!ui.focus_moved) return;
  const auto mine = ui.order.begin() + static_cast<std::ptrdiff_t>(std::min(first, ui.order.size()));
  const auto place = ui.items.find(ui.focus);
  if (std::find(mine, ui.order.end(), ui.focus) == ui.order.end() || place == ui.items.end()) return;
  ImGui::SetScrollFromPosY(place->second.y - ImGui::GetWindowPos().y, 0.5f);
}

}  // namespace

void draw_filling(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
  const std::size_t first = ui.order.size();
  if (!choices.filling) choices.filling = std::make_shared<FillingPage>();
  const std::shared_ptr<FillingPage> page = choices.filling;  // it may be closed while it is drawn
  ImGui::SetNextWindowPos({0, layout.top.height});
  ImGui::SetNextWindowSize({layout.caution.width, std::max(1.f, layout.caution.y - layout.top.height)});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(12), ui.px(6)));
  ImGui::Begin("Filling", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
  ImGui::PopStyleVar();
  draw_head(ui, desk, choices);
  if (hides_numbers(desk, choices)) {  // they would give the lesson's answer away
    soft_text(ui, "The fillings stand here once the class has guessed.", true);
  } else {
    const bool edits_b = desk.compares() && desk.edits_other, two = two_shown(desk);
    look_at(page->known[0], desk.session, page->over_front, ui.units);
    if (two) look_at(page->known[1], *desk.other, page->over_front, ui.units);
    Session& session = desk.edited();
    const Session* beside = !two ? nullptr : edits_b ? &desk.session : desk.other.get();
    const KnownFilling& known = page->known[edits_b ? 1 : 0];
    const auto edits = static_cast<unsigned>(known.stamp * 31 + (beside ? page->known[edits_b ? 0 : 1].stamp : 0));
    page->curves.want(session.scene(), beside ? &beside->scene() : nullptr, page->over_front, edits);
    page->curves.advance();
    draw_facts(ui, session, known);
    const FillingSide side{session, known};
    const ImVec2 room = ImGui::GetContentRegionAvail();
    if (known.refusal.empty()) {
      if (room.x >= ui.px(kWideFrom) && room.y >= ui.px(kHighFrom))
        draw_wide(ui, desk, *page, side);
      else
        draw_narrow(ui, desk, *page, side);
    }
  }
  scroll_to_focus(ui, first);
  ImGui::End();
  ImGui::PopStyleColor();
}

}  // namespace sidehill::screen
