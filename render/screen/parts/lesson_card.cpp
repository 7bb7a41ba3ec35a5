#include "render/screen/parts/lesson_card.h"

#include <fmt/format.h>

#include <algorithm>

#include "render/screen/kit/caution.h"
#include "render/text/motion/lesson_report.h"
#include "render/text/words/units.h"
#include "render/text/words/words.h"

namespace sidehill::screen {

std::string lesson_words_shown(const Ui& ui, const std::string& sentence) { return read_in(sentence, ui.units); }

namespace {

enum class Sign { none, right, wrong, caution, home };

ImVec2 wrapped_size(const ImFont* font, std::string_view text, float width) {
  return size_of(font, in_lines(font, text, width));
}

void wrapped_at(const ImFont* font, ImVec2 place, Colour ink, std::string_view text, float width) {
  text_at(*ImGui::GetWindowDrawList(), font, place, ink, in_lines(font, text, width));
}

// Words in the flow of the card.
void words(const ImFont* font, Colour ink, std::string_view text) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  wrapped_at(font, corner, ink, text, width);
  ImGui::Dummy({width, wrapped_size(font, text, width).y});
}

void gap(const Ui& ui, double size) { ImGui::Dummy({0, ui.px(size)}); }

void draw_sign(Sign sign, ImVec2 centre, float size, Colour ink) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const float r = size / 2, w = std::max(2.f, size / 7);
  const auto at = [&](float x, float y) { return ImVec2(centre.x + x * r, centre.y + y * r); };
  const ImU32 c = colour(ink);
  switch (sign) {
    case Sign::none:
      break;
    case Sign::right: {
      const ImVec2 tick[] = {at(-0.8f, 0.05f), at(-0.2f, 0.65f), at(0.85f, -0.65f)};
      list.AddPolyline(tick, 3, c, 0, w);
      break;
    }
    case Sign::wrong:
      list.AddLine(at(-0.65f, -0.65f), at(0.65f, 0.65f), c, w);
      list.AddLine(at(-0.65f, 0.65f), at(0.65f, -0.65f), c, w);
      break;
    case Sign::caution:
      list.AddTriangle(at(0, -0.9f), at(0.95f, 0.8f), at(-0.95f, 0.8f), c, w * 0.7f);
      list.AddLine(at(0, -0.35f), at(0, 0.25f), c, w * 0.7f);
      list.AddCircleFilled(at(0, 0.52f), w * 0.45f, c, 8);
      break;
    case Sign::home:
      list.AddTriangleFilled(at(-0.95f, 0), at(0, -0.9f), at(0.95f, 0), c);
      list.AddRectFilled(at(-0.6f, 0), at(0.6f, 0.85f), c);
      break;
  }
}

struct RowLook {
  std::string label;  // of its item
  std::string mark;   // in front: the number
  std::string text;   // wrapped
  std::string note;   // at the right, small; may be empty
  Sign sign = Sign::none;
  bool chosen = false, enabled = true, focused = false, roomy = false;
  const char* help = "";
};

// A large button with words that may take several lines. Returns true if it was clicked.
bool big_row(Ui& ui, const RowLook& look) {
  ImGui::PushID(look.label.c_str());
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImFont* font = ui.fonts.reading;
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, pad = ui.px(9);
  const float note = look.note.empty() ? 0 : size_of(ui.fonts.small, look.note).x + ui.px(10);
  const float sign = look.sign == Sign::none ? 0 : ui.px(28);
  const float from = ui.px(40), room = std::max(ui.px(60), width - from - note - sign - pad);
  const float over = ui.px(look.roomy ? 11 : 8), height = wrapped_size(font, look.text, room).y + 2 * over;
  bool clicked = ImGui::InvisibleButton("##row", {width, height}) && look.enabled;
  const Rect place{corner.x, corner.y, width, height};
  look.enabled ? remember(ui, look.label, place) : remember_readout(ui, look.label, place);
  if (look.enabled && reach(ui, look.label, place) && ui.enter) clicked = true;
  const bool hovered = ImGui::IsItemHovered() && look.enabled;
  tooltip(ui, look.help);
  const ImVec2 end{corner.x + width, corner.y + height};
  const Colour fill = look.chosen ? theme::kAccent : hovered ? theme::kTrough : theme::kCard;
  const Colour ink = look.chosen ? theme::kOnAccent : theme::kInk;
  list.AddRectFilled(corner, end, colour(fill), ui.px(5));
  list.AddRect(corner, end, colour(look.focused || look.chosen ? theme::kAccent : theme::kRule), ui.px(5), 0,
               ui.px(look.focused ? 2.5 : 1));
  text_at(list, ui.fonts.reading, {corner.x + ui.px(20), corner.y + over},
          look.chosen ? theme::kOnAccent : theme::kAccent, look.mark, 0.5f);
  wrapped_at(font, {corner.x + from, corner.y + over}, ink, look.text, room);
  const float middle = corner.y + height / 2;
  if (sign > 0) draw_sign(look.sign, {end.x - pad - ui.px(9), middle}, ui.px(18), ink);
  if (!look.note.empty())
    text_at(list, ui.fonts.small, {end.x - pad - sign, middle - ui.fonts.small->FontSize / 2},
            look.chosen ? theme::kOnAccent : theme::kInkSoft, look.note, 1);
  ImGui::PopID();
  return clicked;
}

constexpr double kBigButton = 44;  // height [px at scale 1]

// What to do next; across the whole card without a width.
bool big_button(Ui& ui, const char* label, bool strong, const char* help, float width = 0) {
  ImGui::PushID(label);
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const ImVec2 size{width > 0 ? width : ImGui::GetContentRegionAvail().x, ui.px(kBigButton)};
  bool clicked = ImGui::InvisibleButton("##big", size);
  remember(ui, label, {corner.x, corner.y, size.x, size.y});
  if (reach(ui, label, {corner.x, corner.y, size.x, size.y}) && ui.enter) clicked = true;
  tooltip(ui, help);
  const bool hovered = ImGui::IsItemHovered();
  const ImVec2 end{corner.x + size.x, corner.y + size.y};
  const Colour fill = strong    ? (hovered ? theme::kAccentHover : theme::kAccent)
                      : hovered ? theme::kTrough
                                : theme::kCard;
  list.AddRectFilled(corner, end, colour(fill), ui.px(6));
  list.AddRect(corner, end, colour(strong ? theme::kAccent : theme::kRule), ui.px(6), 0, ui.px(1));
  text_at(list, ui.fonts.reading, {corner.x + size.x / 2, corner.y + (size.y - ui.fonts.reading->FontSize) / 2},
          strong ? theme::kOnAccent : theme::kInk, label, 0.5f);
  ImGui::PopID();
  return clicked;
}

// A block of its own paper with a sign and a heading in its strip.
void block(Ui& ui, const char* label, Sign sign, Colour strip, Colour on_strip, std::string_view heading,
           std::string_view large, std::string_view text, const ImFont* font = nullptr) {
  if (!font) font = ui.fonts.reading;
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, pad = ui.px(11), tab = ui.px(32), wrap = width - 2 * pad;
  const float large_height = large.empty() ? 0 : wrapped_size(ui.fonts.question, large, wrap).y + ui.px(3);
  const float text_height = text.empty() ? 0 : wrapped_size(font, text, wrap).y;
  const float height = tab + large_height + text_height + 2 * ui.px(7);
  const Rect card{corner.x, corner.y, width, height};
  list.AddRectFilled(card.low(), card.high(), colour(theme::kCard), ui.px(6));
  list.AddRectFilled(corner, {corner.x + width, corner.y + tab}, colour(strip), ui.px(6), ImDrawFlags_RoundCornersTop);
  draw_sign(sign, {corner.x + pad + ui.px(9), corner.y + tab / 2}, ui.px(18), on_strip);
  text_at(list, ui.fonts.reading, {corner.x + pad + ui.px(28), corner.y + (tab - ui.fonts.reading->FontSize) / 2},
          on_strip, heading);
  const float y = corner.y + tab + ui.px(7);
  if (!large.empty()) wrapped_at(ui.fonts.question, {corner.x + pad, y}, theme::kInk, large, wrap);
  if (!text.empty()) wrapped_at(font, {corner.x + pad, y + large_height}, theme::kInk, text, wrap);
  list.AddRect(card.low(), card.high(), colour(strip), ui.px(6), 0, ui.px(1.5));
  remember_readout(ui, label, card);
  ImGui::Dummy({width, height});
}

void draw_list(Ui& ui, LessonPlay& play) {
  words(ui.fonts.question, theme::kInk, "Lessons");
  words(ui.fonts.text, theme::kInkSoft,
        "Each asks the class first. Then it runs, and then it says what happened and why.");
  gap(ui, 2);
  std::optional<std::size_t> opened;
  for (std::size_t i = 0; i < play.lessons.size(); ++i) {
    const Lesson& lesson = play.lessons[i];
    RowLook look;
    look.label = "Lesson " + lesson.title;
    look.mark = fmt::format("{:g}", lesson.number);
    look.text = lesson.title;
    look.focused = i == play.row;
    if (const std::optional<bool> right = play.record[i]) {
      look.sign = *right ? Sign::right : Sign::wrong;
      look.note = *right ? "guessed right" : "not right";
    }
    if (big_row(ui, look)) opened = i;
  }
  gap(ui, 2);
  words(ui.fonts.text, theme::kInkSoft, kCautionLine);
  if (opened) open_lesson(play, *opened);
}

void draw_answers(Ui& ui, LessonPlay& play, const Lesson& lesson) {
  const bool asking = play.stage == LessonStage::asking, answered = play.stage == LessonStage::answered && play.truth;
  for (std::size_t i = 0; i < lesson.answers.size(); ++i) {
    const bool mine = play.guess == i, right = answered && play.truth->right == i;
    if (answered && !right) continue;  // only what is right is worth its room now
    RowLook look;
    look.label = fmt::format("Answer {}", i + 1);
    look.mark = fmt::format("{}", i + 1);
    look.text = lesson_words_shown(ui, lesson.answers[i].text);
    look.enabled = asking;
    look.chosen = mine && !answered;
    look.roomy = !answered;
    if (answered) look.sign = Sign::right;
    if (mine) look.note = "your guess";
    if (big_row(ui, look)) make_guess(play, i);
  }
}

void draw_answered(Ui& ui, const LessonPlay& play, const Lesson& lesson) {
  if (!play.truth) {
    if (play.trouble.empty()) words(ui.fonts.reading, theme::kInk, "Being worked out ...");
  } else {
    const LessonTruth& truth = *play.truth;
    const bool guessed = play.guess.has_value(), right = play.guess == truth.right;
    if (guessed && !right)
      words(ui.fonts.text, theme::kInk, "Your guess: " + lesson_words_shown(ui, lesson.answers[*play.guess].text));
    block(ui, "Truth", !guessed || right ? Sign::right : Sign::wrong,
          !guessed ? theme::kAccent
          : right  ? theme::kSteady
                   : theme::kInk,
          theme::kOnAccent,
          !guessed ? "So it is"
          : right  ? "Right"
                   : "Not this time",
          lesson_words_shown(ui, truth_number(lesson, truth)), lesson_words_shown(ui, truth_sentence(lesson, truth)));
    words(ui.fonts.text, theme::kInk, lesson_words_shown(ui, lesson.because));
    words(ui.fonts.small, theme::kInkSoft,
          lesson_words_shown(ui, doubt_words(lesson, truth)) + " This machine, this ground.");
  }
  if (!lesson.source.empty()) words(ui.fonts.small, theme::kInkSoft, "Source: " + lesson.source);
}

// What stays at the foot of a lesson whose answer is shown, however long its card: the caution always whole; what to
// take home too where there is room for it, else above, in what scrolls.
struct Foot {
  const ImFont* caution = nullptr;
  bool home = true;
  float height = 0;
};

// Of the box with what to take home.
float home_height(const Ui& ui, const Lesson& lesson, float width) {
  return wrapped_size(ui.fonts.reading, lesson_words_shown(ui, lesson.take_home), width - ui.px(48)).y +
         ui.fonts.small->FontSize + ui.px(14);
}

float caution_height(const Ui& ui, const ImFont* font, const Lesson& lesson, float width) {
  return ui.px(32 + 2 * 7) + wrapped_size(font, lesson_words_shown(ui, lesson.caution), width - ui.px(22)).y;
}

// The roomiest that leaves something of the card to scroll in; the smallest type where none does.
Foot foot_of(const Ui& ui, const Lesson& lesson, float width, float height) {
  constexpr float kMost = 0.62f;  // of the card
  const float apart = ImGui::GetStyle().ItemSpacing.y, buttons = ui.px(kBigButton) + apart;
  Foot foot;
  for (const ImFont* font : {ui.fonts.reading, ui.fonts.text, ui.fonts.small})
    for (const bool home : {true, false}) {
      foot = {font, home, buttons + caution_height(ui, font, lesson, width) + 2 * apart};
      if (home) foot.height += home_height(ui, lesson, width) + apart;
      if (foot.height <= kMost * height) return foot;
    }
  return foot;
}

void draw_home(Ui& ui, const Lesson& lesson) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, room = width - ui.px(48);
  const float height = home_height(ui, lesson, width);
  const Rect card{corner.x, corner.y, width, height};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(card.low(), card.high(), colour(theme::kCard), ui.px(6));
  text_at(list, ui.fonts.small, {corner.x + ui.px(38), corner.y + ui.px(5)}, theme::kAccent, "To take home");
  list.AddRect(card.low(), card.high(), colour(theme::kAccent), ui.px(6), 0, ui.px(2));
  draw_sign(Sign::home, {corner.x + ui.px(20), corner.y + height / 2}, ui.px(20), theme::kAccent);
  wrapped_at(ui.fonts.reading, {corner.x + ui.px(38), corner.y + ui.px(6) + ui.fonts.small->FontSize}, theme::kInk,
             lesson_words_shown(ui, lesson.take_home), room);
  ImGui::Dummy({width, height});
  remember_readout(ui, "Take home", card);
}

void draw_foot(Ui& ui, LessonPlay& play, const Lesson& lesson, const Foot& foot) {
  block(ui, "Lesson caution", Sign::caution, theme::kNear, theme::kInk, "Caution", "",
        lesson_words_shown(ui, lesson.caution), foot.caution);
  if (foot.home) draw_home(ui, lesson);
  const float width = ImGui::GetContentRegionAvail().x, between = ImGui::GetStyle().ItemSpacing.x;
  const bool last = play.open + 1 >= play.lessons.size();
  if (big_button(ui, "Show again", false, "Runs it once more", width * 0.4f - between)) show_again(play);
  ImGui::SameLine();
  if (big_button(ui, last ? "To the list" : "Next lesson", true, "Key: Enter", width * 0.6f)) next_lesson(play);
}

// A film or a hand-out of it, by one press.
void draw_take_away(Ui& ui, LessonPlay& play) {
  gap(ui, 6);
  if (button(ui, "Film of this lesson", Icon::none,
             "Question, time to guess, the run, answer and caution as a film, to show on any computer"))
    play.wanted.film = true;
  ImGui::SameLine();
  if (button(ui, "Hand-out", Icon::none, "A sheet for each in the class: question in front, answer on the back"))
    play.wanted.handout = true;
  if (!play.made.empty()) words(ui.fonts.small, theme::kInkSoft, play.made);
}

void draw_open(Ui& ui, LessonPlay& play, const Foot& foot) {
  const Lesson& lesson = play.lessons[play.open];
  const bool back = button(ui, "All lessons", Icon::none, "Back to the list. Key: Backspace");
  ImGui::SameLine();
  if (back) return close_lesson(play);
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const std::string title = fmt::format("{:g}  {}", lesson.number, lesson.title);
  text_at(*ImGui::GetWindowDrawList(), ui.fonts.reading, {at.x + ui.px(4), at.y + ui.px(4)}, theme::kAccent,
          fitted(ui.fonts.reading, title, ImGui::GetContentRegionAvail().x - ui.px(4)));
  ImGui::Dummy({0, ui.px(30)});
  if (!play.trouble.empty()) words(ui.fonts.text, theme::kLifted, "! " + play.trouble);

  const bool answered = play.stage == LessonStage::answered;
  if (!answered) {
    words(ui.fonts.reading, theme::kInk, lesson_words_shown(ui, lesson.story));
    gap(ui, 8);
  }
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  words(answered ? ui.fonts.reading : ui.fonts.question, theme::kInk, lesson_words_shown(ui, lesson.question));
  remember_readout(ui, "Question",
                   {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ImGui::GetCursorScreenPos().y - corner.y});
  if (!answered) gap(ui, 4);
  draw_answers(ui, play, lesson);
  switch (play.stage) {
    case LessonStage::asking:
      gap(ui, 2);
      if (play.guess) {
        if (big_button(ui, "Show me", true, "")) show_lesson(play);
      } else {
        words(ui.fonts.text, theme::kInkSoft, "Guess first: click an answer, or press its number.");
        if (button(ui, "Show without a guess", Icon::none, "Runs it. Better let the class guess first"))
          show_lesson(play);
      }
      draw_take_away(ui, play);
      break;
    case LessonStage::showing:
      gap(ui, 2);
      words(ui.fonts.reading, theme::kInk, "Watch.");
      if (big_button(ui, "Tell me", true, "")) tell_lesson(play);
      break;
    case LessonStage::answered:
      draw_answered(ui, play, lesson);
      if (!foot.home) draw_home(ui, lesson);
      draw_take_away(ui, play);
      break;
    case LessonStage::list:
      break;
  }
}

bool pressed(ImGuiKey key) { return ImGui::IsKeyPressed(ImGui::GetKeyIndex(key), false); }

void use_keys(const Ui& ui, LessonPlay& play) {
  ImGuiIO& io = ImGui::GetIO();
  if (io.WantTextInput || !ui.typing.empty()) return;
  const bool free = ui.focus.empty();  // else Enter and the arrows are that item's
  if (play.stage == LessonStage::list) {
    if (play.lessons.empty() || !free) return;
    if (pressed(ImGuiKey_DownArrow)) play.row = std::min(play.row + 1, play.lessons.size() - 1);
    if (pressed(ImGuiKey_UpArrow) && play.row > 0) --play.row;
    if (pressed(ImGuiKey_Enter)) open_lesson(play, play.row);
    return;
  }
  for (const ImWchar letter : io.InputQueueCharacters)
    if (letter >= '1' && letter <= '4') make_guess(play, static_cast<std::size_t>(letter - '1'));
  if (pressed(ImGuiKey_Backspace)) return close_lesson(play);
  if (!free || !pressed(ImGuiKey_Enter)) return;
  if (play.stage == LessonStage::asking) {
    if (play.guess) show_lesson(play);
  } else if (play.stage == LessonStage::showing) {
    tell_lesson(play);
  } else {
    next_lesson(play);
  }
}

}  // namespace

void draw_lesson(Ui& ui, LessonPlay& play) {
  tick(play);
  use_keys(ui, play);
  const Lesson* lesson = open_lesson_of(play);
  const bool answered = lesson && play.stage == LessonStage::answered;
  const ImVec2 room = ImGui::GetContentRegionAvail();
  const Foot foot = answered ? foot_of(ui, *lesson, room.x, room.y) : Foot{};
  // A card for each stage, so that each begins at its top.
  ImGui::PushID(static_cast<int>(play.stage));
  ImGui::PushID(static_cast<int>(play.open));
  if (ImGui::BeginChild("##lesson", {0, answered ? std::max(1.f, room.y - foot.height) : 0})) {
    if (lesson) {
      draw_open(ui, play, foot);
    } else {
      if (!play.trouble.empty()) words(ui.fonts.text, theme::kLifted, "! " + play.trouble);
      draw_list(ui, play);
    }
  }
  ImGui::EndChild();
  ImGui::PopID();
  ImGui::PopID();
  if (answered && open_lesson_of(play) == lesson) draw_foot(ui, play, *lesson, foot);
}

}  // namespace sidehill::screen
