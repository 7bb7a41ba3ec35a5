// Below the picture: run, pause, slow motion, what the camera does; and the run over time.
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "render/screen/panels/panels.h"
#include "render/screen/panels/time_strip.h"

namespace sidehill::screen {
namespace {

constexpr const char* kGuessFirst = "Guess first: then Show me runs it";

// Slow motion: four buttons, or one that goes round where there is little room.
void speeds(Ui& ui, Desk& desk, bool narrow) {
  constexpr const char* kNames[] = {"1x", "1/2", "1/5", "1/10"};
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(2), 0));
  for (std::size_t i = 0; i < std::size(Session::kRates); ++i) {
    const bool chosen = desk.session.rate() == Session::kRates[i];
    if (narrow && !chosen) continue;
    if (!narrow && i > 0) ImGui::SameLine();
    if (button(ui, kNames[i], Icon::none, help_for("Slow motion"), chosen, ui.px(i == 3 ? 42 : 36)))
      set_rate(desk, Session::kRates[narrow ? (i + 1) % std::size(Session::kRates) : i]);
  }
  ImGui::PopStyleVar();
}

}  // namespace

void draw_bar(Ui& ui, Desk& desk, ViewChoices& choices) {
  const Session& session = desk.session;
  const bool asks = asks_first(desk, choices);  // a class guesses before anything runs
  const bool possible = session.refusal().empty() && !asks;
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const bool narrow = width < ui.px(560);  // icons alone; their help says what they do
  const bool small = width < ui.px(390);   // and no wider than they must be
  const bool tight = width < ui.px(850);   // the plainest ones without words
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(small ? 3 : 5), 0));
  const auto press = [&](const char* label, const char* command, Icon icon, bool pressed, float wide = 0) {
    const bool plain = icon == Icon::step || icon == Icon::back || icon == Icon::reset || icon == Icon::loop;
    if (!narrow && !(tight && plain))
      return button(ui, label, icon, asks ? kGuessFirst : help_for(command), pressed, wide, possible);
    const std::string icon_only = std::string("##") + label;
    const bool clicked =
        button(ui, icon_only, icon, asks ? kGuessFirst : help_for(command), pressed, ui.px(small ? 30 : 34), possible);
    remember(ui, label, ui.items[icon_only]);
    return clicked;
  };
  // On to a second row where the first is full.
  float row = 0;
  const auto beside = [&](float gap = -1) {
    ImGui::SameLine(0, gap);
    if (!narrow || ImGui::GetCursorScreenPos().x + ui.px(42) <= corner.x + width) return;
    row += ui.px(34);
    ImGui::SetCursorScreenPos({corner.x, corner.y + row});
  };
  const float apart = ui.px(small ? 6 : 12);
  const bool runs = playing(desk);
  if (press(runs ? "Pause" : "Play", "Play", runs ? Icon::pause : Icon::play, !asks, ui.px(88))) toggle(desk);
  beside();
  if (press("Back", "Back", Icon::back, false)) step_back(desk);
  beside();
  if (press("Step", "Step", Icon::step, false)) step_once(desk);
  beside();
  if (press("Reset", "Reset", Icon::reset, false)) reset(desk);
  beside();
  if (press("Loop", "Loop", Icon::loop, session.loops())) set_loop(desk, !session.loops());
  if (!choices.presenter) {
    beside(apart);
    if (press("Drop", "Drop", Icon::drop, false)) drop(desk);
    beside();
    if (press("Drive", "Drive", Icon::drive, false)) drive(desk);
    beside();
    if (press("By hand", "By hand", Icon::by_hand, session.by_hand())) carry_out(U'h', desk, choices);
  }
  beside(apart);
  speeds(ui, desk, tight);
  ImGui::PopStyleVar();
  const float top = corner.y + row + ui.px(40);
  const float bottom = ImGui::GetWindowPos().y + ImGui::GetWindowHeight() - ui.px(4);
  if (bottom - top < ui.px(40)) return;  // the picture needed the room
  const Lesson* lesson = lesson_shown(desk, choices);
  if (!lesson && hides_numbers(desk, choices)) return;  // it would give the answer away
  time_strip(ui, {corner.x, top, width, bottom - top}, desk, lesson);
}

}  // namespace sidehill::screen
