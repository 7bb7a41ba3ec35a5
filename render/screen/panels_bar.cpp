// Below the picture: run, pause, slow motion, what the camera does; and the run over time.
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "render/screen/charts.h"
#include "render/screen/panels.h"

namespace sidehill {
namespace {

const char* help_for(std::string_view name) {
  for (const Command& command : commands()) {
    if (command.name == name) return command.help;
  }
  return "";
}

void speeds(Ui& ui, Session& session, ViewChoices& choices, bool narrow) {
  constexpr const char* kNames[] = {"1x", "1/2", "1/5", "1/10"};
  if (narrow) {  // one button that goes round
    for (std::size_t i = 0; i < std::size(Session::kRates); ++i) {
      if (session.rate() != Session::kRates[i]) continue;
      if (button(ui, kNames[i], Icon::none, help_for("Slow motion"), true, ui.px(46)))
        carry_out(U's', session, choices);
      return;
    }
  }
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(2), 0));
  for (std::size_t i = 0; i < std::size(Session::kRates); ++i) {
    if (i > 0) ImGui::SameLine();
    if (button(ui, kNames[i], Icon::none, help_for("Slow motion"), session.rate() == Session::kRates[i],
               ui.px(i == 3 ? 42 : 36))) {
      session.set_rate(Session::kRates[i]);
    }
  }
  ImGui::PopStyleVar();
}

}  // namespace

void draw_bar(Ui& ui, Session& session, ViewChoices& choices) {
  const bool possible = session.refusal().empty();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  const bool narrow = width < ui.px(600);  // icons alone; their help says what they do
  const bool tight = width < ui.px(720);   // the plainest ones without words
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(5), 0));
  const auto press = [&](const char* label, const char* command, Icon icon, bool pressed, float wide = 0) {
    if (!narrow && !(tight && (icon == Icon::step || icon == Icon::reset)))
      return button(ui, label, icon, help_for(command), pressed, wide, possible);
    const std::string icon_only = std::string("##") + label;
    const bool clicked = button(ui, icon_only, icon, help_for(command), pressed, ui.px(34), possible);
    remember(ui, label, ui.items[icon_only]);
    return clicked;
  };
  if (press(session.playing() ? "Pause" : "Play", "Play", session.playing() ? Icon::pause : Icon::play, true,
            ui.px(88))) {
    session.toggle();
  }
  ImGui::SameLine();
  if (press("Step", "Step", Icon::step, false)) session.step_once();
  ImGui::SameLine();
  if (press("Reset", "Reset", Icon::reset, false)) session.reset();
  ImGui::SameLine(0, ui.px(14));
  if (press("Drop", "Drop", Icon::drop, false)) session.drop();
  ImGui::SameLine();
  if (press("Drive", "Drive", Icon::drive, false)) session.drive();
  ImGui::SameLine();
  if (press("By hand", "By hand", Icon::by_hand, session.by_hand())) carry_out(U'h', session, choices);
  ImGui::SameLine(0, ui.px(14));
  speeds(ui, session, choices, narrow);
  ImGui::PopStyleVar();
  if (session.playing() && session.keeping_up() < 0.95) {
    ImDrawList& list = *ImGui::GetWindowDrawList();
    text_at(list, ui.fonts.small, {corner.x + width, corner.y + ui.px(32)}, theme::kLifted,
            fmt::format("This computer is slow: shown at {:.2g}x", session.rate() * session.keeping_up()), 1);
  }
  const float top = corner.y + ui.px(40);
  const float bottom = ImGui::GetWindowPos().y + ImGui::GetWindowHeight() - ui.px(4);
  time_strip(ui, {corner.x, top, width, bottom - top}, session);
}

}  // namespace sidehill
