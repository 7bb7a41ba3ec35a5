// What an open lesson asks, large on the picture while its run is shown.
#include "render/screen/desk/asked_now.h"
#include "render/screen/panels/panels.h"

namespace sidehill::screen {
namespace {

// A card at the foot of a picture.
void draw_one(Ui& ui, const char* item, const AskedNow& now, Rect view) {
  const ImFont* small = ui.fonts.text;
  const float pad = ui.px(10), most = view.width - ui.px(24);
  // No more than half of the picture's width.
  const ImFont* large =
      size_of(ui.fonts.big, now.value).x + 2 * pad <= 0.5f * view.width ? ui.fonts.big : ui.fonts.question;
  const std::string name = fitted(small, now.name, most - 2 * pad), note = fitted(small, now.note, most - 2 * pad);
  const ImVec2 figure = size_of(large, now.value);
  const float wide = std::max({size_of(small, name).x, figure.x, size_of(small, note).x}) + 2 * pad;
  const float line = small->FontSize * 1.2f;
  const float high = 2 * line + figure.y + 1.4f * pad;
  const Rect card{view.x + ui.px(12), view.y + view.height - high - ui.px(12), wide, high};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(card.low(), card.high(), colour(with_alpha(theme::kCard, 0.94)), ui.px(6));
  list.AddRect(card.low(), card.high(), colour(now.happened ? theme::kLifted : theme::kInk), ui.px(6), 0,
               ui.px(now.happened ? 3 : 1.5));
  float y = card.y + 0.7f * pad;
  text_at(list, small, {card.x + pad, y}, theme::kInkSoft, name);
  y += line;
  text_at(list, large, {card.x + pad, y}, now.happened ? theme::kLifted : theme::kInk, now.value);
  y += figure.y;
  text_at(list, small, {card.x + pad, y}, theme::kInk, note);
  remember_readout(ui, item, card);
}

}  // namespace

const Lesson* lesson_shown(const Desk& desk, const ViewChoices& choices) {
  if (desk.task != Task::teach || !choices.lesson || choices.lesson->stage == LessonStage::asking) return nullptr;
  return desk.session.started() ? open_lesson_of(*choices.lesson) : nullptr;
}

void draw_asked(Ui& ui, const Desk& desk, const ViewChoices& choices, Rect view) {
  const Lesson* lesson = lesson_shown(desk, choices);
  if (!lesson || choices.drawer != Drawer::none) return;
  const LessonTruth* truth = choices.lesson->truth ? &*choices.lesson->truth : nullptr;
  ImGui::SetNextWindowPos(view.low());
  ImGui::SetNextWindowSize({view.width, view.height});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
  if (ImGui::Begin("Asked", nullptr,
                   ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoInputs |
                       ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                       ImGuiWindowFlags_NoNav)) {
    const bool two = two_shown(desk) && desk.other->started();
    const auto [left, right] = two ? halves(view) : std::pair{view, view};
    draw_one(ui, two ? "Asked A" : "Asked", asked_now(*lesson, desk.session, truth ? &truth->a : nullptr, ui.units),
             left);
    if (two)
      draw_one(ui, "Asked B", asked_now(*lesson, *desk.other, truth && truth->b ? &*truth->b : nullptr, ui.units),
               right);
  }
  ImGui::End();
  ImGui::PopStyleVar();
}

}  // namespace sidehill::screen
