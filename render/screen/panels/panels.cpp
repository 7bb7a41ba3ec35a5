#include "render/screen/panels/panels.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels_plan.h"
#include "render/screen/parts/band.h"
#include "render/screen/parts/charts.h"
#include "render/screen/parts/ground_tools.h"
#include "render/screen/parts/lesson_card.h"

namespace sidehill::screen {
namespace {

// How long a frame waits for answers in all: on even ground one takes a third of this [s].
constexpr double kPatience = 0.04;
constexpr double kTopHeight = 38, kBannerHeight = 40, kBarHeight = 128, kBarButtons = 50, kBarInOneRow = 390,
                 kHandHeight = 58;
constexpr double kLeastView = 96;   // of the picture: its buttons, and something to see [px at scale 1]
constexpr float kMostBand = 0.34f;  // of the window's height: a band of sentences is no higher
// From this size of the window on the whole answer stands beside the picture without scrolling [px at scale 1].
constexpr double kTwoColumnsFrom = 1700, kTwoColumnsHigh = 900;
constexpr double kSharedBelow = 1000, kLessonWidth = 430, kCompareWidth = 408;
constexpr double kFewLabels = 440;  // a picture narrower than that is no place for all words [px at scale 1]
constexpr double kAskWidth = 330, kPlanWidth = 430, kPlanChart = 264;  // while planning [px at scale 1]

// Panels have no background of their own: the window is cleared in their colour, which costs far less than filling it
// again.
bool begin_panel(const char* name, Rect rect, ImGuiWindowFlags more = 0) {
  ImGui::SetNextWindowPos(rect.low());
  ImGui::SetNextWindowSize({rect.width, rect.height});
  return ImGui::Begin(name, nullptr,
                      ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                          ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoCollapse |
                          ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                          ImGuiWindowFlags_NoNav | more);
}

// What goes on, beside what it means.
std::string state_of(const Session& session) {
  if (session.playing()) {
    std::string words = session.rate() == 1 ? "running" : fmt::format("running at 1/{:.0f} speed", 1 / session.rate());
    if (!session.looks_back() && session.keeping_up() < 0.95)
      words += fmt::format("; this computer is slow: shown at {:.2g}x", session.rate() * session.keeping_up());
    return words;
  }
  if (session.showing() == Showing::run)
    return session.looks_back() ? "looking back" : session.finished() ? "" : "paused";
  return "";
}

// `tag` says which of two set-ups, by its letter and perhaps its name; empty where there is one.
struct Band {
  const Session* session;
  Rect rect;
  std::string tag;
};

std::vector<Band> bands_of(const Desk& desk, const ViewChoices& choices, Rect banner) {
  if (!two_shown(desk)) return {{&desk.session, banner, ""}};
  const auto [a, b] = halves(banner);
  if (plans(desk)) {
    const auto [today, chosen] = names_of_two(desk);
    return {{&desk.session, a, today}, {desk.other.get(), b, chosen}};
  }
  // What a lesson calls them.
  const Lesson* lesson = desk.task == Task::teach && choices.lesson ? open_lesson_of(*choices.lesson) : nullptr;
  const auto named = [](const char* letter, const std::string& name) {
    return name.empty() ? std::string(letter) : std::string(letter) + ": " + name;
  };
  return {{&desk.session, a, named("A", lesson ? lesson->name_a : "")},
          {desk.other.get(), b, named("B", lesson ? lesson->name_b : "")}};
}

// In a lesson the set-up's numbers would answer its question, then and in the run it is about.
Verdict said_in(const Band& band, const Desk& desk, const ViewChoices& choices) {
  if (!hides_numbers(desk, choices)) return moment_of(*band.session, choices.units);
  if (!desk.session.started()) return {Tone::unknown, "", "What will it do?", "guess first", {}};
  return seen_of(*band.session);
}

BandText text_in(const Band& band, const Verdict& verdict, const Fonts& fonts, float one_line, float most, float scale,
                 bool asks) {
  return band_text(fonts, verdict, band.tag, asks ? "" : state_of(*band.session), band.rect.width, one_line, most,
                   scale);
}

float one_line_of(double scale, double height, const Desk& desk, const ViewChoices& choices) {
  const bool large = choices.presenter || desk.task == Task::teach;
  return static_cast<float>(std::floor(std::min((large ? 1.25 : 1) * kBannerHeight * scale, height / 8)));
}

// How high the band may grow [px]: the picture keeps its own buttons clear of what lies below it.
float most_band(const Desk& desk, float top, float bottom, double height, double scale) {
  // While planning it is two narrow bands over small pictures, and the limits stand on the right in full.
  const double most = plans(desk) ? kMostBand / 2 : kMostBand;
  return static_cast<float>(std::min<double>(height * most, bottom - top - kLeastView * scale));
}

void draw_banner(Ui& ui, const Desk& desk, const ViewChoices& choices, const Layout& layout) {
  const Rect banner = layout.banner;
  const float window_height = layout.caution.y + layout.caution.height;
  const float one_line = one_line_of(ui.scale, window_height, desk, choices);
  const float most = most_band(desk, banner.y, layout.hand.y, window_height, ui.scale);
  for (const Band& band : bands_of(desk, choices, banner)) {
    const Verdict verdict = said_in(band, desk, choices);
    const bool asks = hides_numbers(desk, choices) && !desk.session.started();
    const BandText text = text_in(band, verdict, ui.fonts, one_line, most, ui.scale, asks);
    draw_band(ui, text, verdict, band.rect, one_line);
    remember_readout(ui, band.tag.empty() ? "Banner" : "Banner " + band.tag.substr(0, 1), band.rect);
  }
}

// What hands and feet do, and with which keys.
void draw_hand(Ui& ui, const Session& session, Rect rect) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(rect.low(), rect.high(), colour(theme::kCard));
  list.AddRectFilled(rect.low(), {rect.x + ui.px(6), rect.y + rect.height}, colour(theme::kAccent));
  list.AddLine(rect.low(), {rect.x + rect.width, rect.y}, colour(theme::kInk), ui.px(1.5));
  const float left = rect.x + ui.px(16), right = rect.x + rect.width - ui.px(14);
  const std::string asked = hand_words(session, ui.units), goes = going_words(session, ui.units);
  text_at(list, ui.fonts.heading, {left, rect.y + ui.px(8)}, theme::kInk,
          fitted(ui.fonts.heading, asked, right - left));
  // How fast it goes is said where there is room.
  const float room = right - left - size_of(ui.fonts.heading, asked).x - ui.px(16);
  if (size_of(ui.fonts.heading, goes).x < room)
    text_at(list, ui.fonts.heading, {right, rect.y + ui.px(8)}, theme::kInk, goes, 1);
  const bool loader = session.model() && session.model()->loader.fitted;
  std::string keys = fmt::format("Up/Down: speed   Left/Right: steer   B: brake{}   H: let go",
                                 loader ? "   Page Up/Down: loader" : "");
  if (size_of(ui.fonts.small, keys).x > right - left) keys = "Up Down Left Right, B brake, H let go";
  text_at(list, ui.fonts.small, {left, rect.y + ui.px(34)}, theme::kInkSoft,
          fitted(ui.fonts.small, keys, right - left));
  remember_readout(ui, "Driving by hand", rect);
}

void draw_caution(Ui& ui, ViewChoices& choices, Rect rect) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  list.AddRectFilled(rect.low(), rect.high(), colour(theme::kInk));
  const CautionBand band = caution_band(ui.fonts.small, rect.width, rect.y + rect.height, ui.scale);
  const auto f = [](auto v) { return static_cast<float>(v); };
  const float size = f(band.size), line = f(band.line);
  const float top = rect.y + (rect.height - f(band.lines.size() - 1) * line) / 2 - size / 2;
  const auto write = [&](float x, float y, Colour ink, const char* words) {
    list.AddText(ui.fonts.small, size, {std::floor(x + 0.5f), std::floor(y + 0.5f)}, colour(ink), words);
  };
  draw_symbol(list, Tone::near, {rect.x + 0.6f * f(band.left), top + size / 2}, 1.07f * size, theme::kNear);
  for (std::size_t i = 0; i < band.lines.size(); ++i)
    write(rect.x + f(band.left), top + f(i) * line, theme::kOnAccent, band.lines[i].c_str());
  remember_readout(ui, "Caution", {rect.x + f(band.left), top, rect.width - f(band.left), rect.y + rect.height - top});
  const float width = f(band.link_width), x = rect.x + rect.width - 0.4f * f(band.left) - width;
  const float y = top + f(band.lines.size() - 1) * line, margin = std::max(0.f, top - rect.y);
  const Rect link{x, y - margin, width, std::max(1.f, rect.y + rect.height - y + margin)};
  ImGui::SetCursorScreenPos(link.low());
  bool pressed = ImGui::InvisibleButton("##more", {std::max(1.f, link.width), link.height});
  remember(ui, kLeavesOut, link);
  if (reach(ui, kLeavesOut, link) && ui.enter) pressed = true;
  if (pressed) choices.notes = !choices.notes;
  const Colour ink = ImGui::IsItemHovered() ? theme::kNear : theme::kOnAccent;
  write(x, y, ink, kLeavesOut);
  list.AddLine({x, y + size}, {x + width, y + size}, colour(ink), ui.px(1));
}

// Every caution and limit in full, over the picture until it is closed.
void draw_notes(Ui& ui, const Desk& desk, ViewChoices& choices, const Layout& layout) {
  const float width = std::min(layout.view.width - ui.px(32), ui.px(560));
  ImGui::SetNextWindowPos({layout.view.x + ui.px(16), layout.view.y + layout.view.height - ui.px(12)}, 0, {0, 1});
  ImGui::SetNextWindowSize({width, 0});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.f);
  ImGui::Begin("Notes", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_AlwaysAutoResize);
  ImGui::PushFont(ui.fonts.heading);
  ImGui::TextUnformatted("Before anyone drives");
  ImGui::PopFont();
  wrapped_words(kCautionLine);
  ImGui::PushFont(ui.fonts.heading);
  ImGui::TextUnformatted("What this answer leaves out");
  ImGui::PopFont();
  wrapped_words(answer_limits_words(holds_liquid(desk.session.scene().ballast) ||
                                    (desk.other && holds_liquid(desk.other->scene().ballast))));
  // Numbers of this set-up would answer a lesson's question.
  const std::vector<std::string> cautions =
      hides_numbers(desk, choices) ? std::vector<std::string>{} : cautions_of(desk, ui.units);
  if (!cautions.empty()) {
    ImGui::PushFont(ui.fonts.heading);
    ImGui::TextUnformatted("This set-up");
    ImGui::PopFont();
    for (const std::string& caution : cautions) wrapped_words(caution);
  }
  const bool escape =
      ImGui::GetIO().KeyMap[ImGuiKey_Escape] >= 0 && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape));
  if (button(ui, "Close", Icon::none, "Key: Escape") || escape) choices.notes = false;
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

// The one panel there is room for shows the set-up or what comes of it.
void draw_either(Ui& ui, const Desk& desk, ViewChoices& choices) {
  ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(ui.px(4), 0));
  const bool set = plans(desk) ? button(ui, "Job and question", Icon::none, "What is wanted", !choices.answer_side)
                               : button(ui, "Set-up", Icon::none, "What is set: ground, liquid, weights, loader",
                                        !choices.answer_side);
  if (set) choices.answer_side = false;
  ImGui::SameLine();
  const char* name = plans(desk) ? "Plans" : desk.compares() ? "Differences" : "Answer";
  if (button(ui, name, Icon::none, "What comes of it", choices.answer_side)) choices.answer_side = true;
  ImGui::PopStyleVar();
  ImGui::Dummy({0, ui.px(6)});
}

void draw_right(Ui& ui, Desk& desk, ViewChoices& choices) {
  if (plans(desk))
    draw_plan_found(ui, desk, choices);
  else if (desk.compares())
    draw_compare(ui, desk, choices);
  else
    draw_answer(ui, desk.session, choices);
}

}  // namespace

Layout layout_of(double width, double height, double scale, const Desk& desk, const ViewChoices& choices) {
  const auto f = [](double v) { return static_cast<float>(std::floor(v)); };
  width = std::max(width, 1.0), height = std::max(height, 1.0);
  const bool teaches = desk.task == Task::teach, alone = choices.presenter;
  // A narrow window gives the picture at least a third of its width.
  const bool planned = plans(desk);
  // A class reads the question.
  const double want_left = teaches ? kLessonWidth : alone ? 0 : planned ? kAskWidth : theme::kLeftWidth;
  const bool two_columns = width / scale >= kTwoColumnsFrom && height / scale >= kTwoColumnsHigh;
  const double both_right = planned           ? kPlanWidth
                            : desk.compares() ? kCompareWidth
                            : two_columns     ? 2 * theme::kRightWidth
                                              : theme::kRightWidth;
  // Where there is no room for two panels and a picture, one panel shows either.
  const bool shares = !alone && !teaches && width / scale < kSharedBelow;
  const double want_right = alone || teaches || shares ? 0 : both_right;
  const double sides = std::max(1.0, want_left + want_right);
  const double panels = std::min(sides * scale, width * (shares ? 0.46 : 2.0 / 3)) / sides;
  const double left = want_left * panels, right = want_right * panels;
  const double top = alone ? 0 : std::min(top_rows(width / scale) * kTopHeight * scale, height / 4);
  const double caution = caution_band(fonts_there().small, width, height, scale).height;  // never cut: the view gives
  // A chart one points at wants room, but no window is all chart.
  const double chart = height / scale >= 480 ? std::min(kPlanChart * scale, 0.4 * height) : height / 4;
  const double bar = planned ? (alone ? 0 : chart) : std::min(kBarHeight * scale, height / 4);
  const double body = height - caution;
  Layout layout;
  layout.shares = shares;
  layout.top = {0, 0, f(width), f(top)};
  layout.left = {0, f(top), f(left), f(body) - f(top)};
  layout.right = {f(width - right), f(top), f(width) - f(width - right), f(body) - f(top)};
  const float x = f(left), middle = layout.right.x - x;
  layout.bar = {x, f(body - bar), middle, f(body) - f(body - bar)};
  const float hand = desk.session.by_hand() ? f(std::min(kHandHeight * scale, height / 8)) : 0;
  layout.hand = {x, layout.bar.y - hand, middle, hand};
  layout.banner = {x, f(top), middle, 0};
  const float one_line = one_line_of(scale, height, desk, choices);
  layout.banner.height = one_line;
  for (const Band& band : bands_of(desk, choices, layout.banner)) {
    const BandText text = text_in(band, said_in(band, desk, choices), fonts_there(), one_line,
                                  most_band(desk, layout.banner.y, layout.hand.y, height, scale),
                                  static_cast<float>(scale), hides_numbers(desk, choices) && !desk.session.started());
    layout.banner.height = std::max(layout.banner.height, f(text.height));
  }
  // In a window too small for anything there is still something of the picture.
  layout.banner.height = std::min(layout.banner.height, std::max(one_line, layout.hand.y - layout.banner.y - 1));
  const float above = f(top) + layout.banner.height;
  // Where there is little room the strip over time gives way before the picture does; its buttons stay.
  const double rows = middle / scale < kBarInOneRow ? 2 : 1;  // of buttons
  const float least = std::min(f(bar), f((kBarButtons + 34 * (rows - 1)) * scale)),
              lacks = f(kLeastView * scale) - (layout.hand.y - above);
  if (!planned && lacks > 0) {
    const float given = std::clamp(lacks, 0.f, layout.bar.height - least);
    layout.bar.y += given, layout.bar.height -= given, layout.hand.y += given;
  }
  layout.view = {x, above, middle, std::max(1.f, layout.hand.y - above)};
  layout.caution = {0, f(body), f(width), f(height) - f(body)};
  return layout;
}

double type_scale(double width, double height, double desktop, const ViewChoices& choices) {
  // Half as much larger as the window is than 1280 x 720.
  const double wide = std::min(width / 1280, height / 720) / desktop, grown = std::max(1.0, 1 + 0.5 * (wide - 1));
  const double read = desktop * grown;
  if (!choices.presenter) return read;
  // A class reads the smallest letters from the last row: a 45th of the height, but no line of less than 50 letters.
  return std::max(read, std::min(height / 45, width / 50) / theme::kSmallTextSize);
}

double most_text_scale(double width, double height, double scale) {
  constexpr double kSteps = 0.25;
  double most = 1;
  for (double wanted = 1; wanted <= 3; wanted += kSteps) {
    const double s = scale * wanted;
    const double top = top_rows(width / s) * kTopHeight * s, bar = std::min(kBarHeight * s, height / 4);
    const double caution = caution_band(fonts_there().small, width, height, s).height;
    if (top > height / 4 || top + bar + caution + (kBannerHeight + kLeastView) * s > height) break;
    most = wanted;
  }
  return most;
}

std::pair<Rect, Rect> halves(Rect rect) {
  const float gap = 2, left = std::floor((rect.width - gap) / 2);
  return {{rect.x, rect.y, left, rect.height}, {rect.x + left + gap, rect.y, rect.width - left - gap, rect.height}};
}

bool shows_two_views(const Desk& desk, const ViewChoices& choices) {
  return desk.other && (desk.task == Task::teach || plans(desk) || (desk.task == Task::compare && choices.two_views));
}

void draw_panels(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout) {
  if (choices.presenter && ImGui::IsKeyPressed(ImGui::GetKeyIndex(ImGuiKey_Escape))) choices.presenter = false;
  attend_plan(desk);
  begin_items(ui);
  ui.units = choices.units;
  choices.overlays.units = choices.units;
  // Two small pictures.
  choices.overlays.few_labels =
      plans(desk) || (shows_two_views(desk, choices) && layout.view.width < 2 * ui.px(kFewLabels));
  hold_keys(ui, desk);
  ui.arrows_taken = desk.session.by_hand();
  if (layout.top.height > 0) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(8), ui.px(4)));
    begin_panel("Top", layout.top, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    draw_top(ui, desk, choices, layout.top);
    ImGui::End();
    ImGui::PopStyleVar();
  }
  const bool covered = choices.drawer == Drawer::filling;  // what lies below it is neither seen nor reached
  if (layout.left.width > 0 && !covered) {
    begin_panel("Set-up", layout.left);
    if (choices.drawer == Drawer::ground) {
      if (std::optional<Scene> changed = draw_ground_tools(ui, choices.placing, desk.edited().scene()))
        desk.edited().edit(std::move(*changed));
    } else if (desk.task == Task::teach) {
      if (!choices.lesson) choices.lesson = lesson_play();
      draw_lesson(ui, *choices.lesson);
    } else {
      if (layout.shares) draw_either(ui, desk, choices);
      if (layout.shares && choices.answer_side) {
        share_ground(desk);
        answer(desk, kPatience);
        draw_right(ui, desk, choices);
      } else {
        if (desk.compares()) draw_which(ui, desk);
        if (plans(desk))
          draw_plan_ask(ui, desk, choices);
        else
          draw_set_up(ui, desk.edited(), choices);
      }
    }
    ImGui::End();
  }
  if (layout.bar.height > 0 && !covered) {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(ui.px(14), ui.px(8)));
    begin_panel("Bar", layout.bar, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
    if (plans(desk))
      draw_plan_chart(ui, desk, choices);
    else
      draw_bar(ui, desk, choices);
    ImGui::End();
    ImGui::PopStyleVar();
  }
  if (desk.task == Task::teach && choices.lesson) play_lesson(desk, choices);  // also while its card is not seen
  // An edit just made is answered before the answer is drawn.
  share_ground(desk);
  answer(desk, desk.other ? kPatience / 2 : kPatience);
  if (layout.right.width > 0 && !covered) {
    begin_panel("Answer", layout.right);
    draw_right(ui, desk, choices);
    ImGui::End();
  }

  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));  // these are painted to their edges
  if (!covered) {
    begin_panel("Now", layout.banner, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoInputs);
    draw_banner(ui, desk, choices, layout);
    ImGui::End();
  }

  if (layout.hand.height > 0 && !covered) {
    begin_panel("Hand", layout.hand, ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoInputs);
    draw_hand(ui, desk.session, layout.hand);
    ImGui::End();
  }

  begin_panel("Caution", layout.caution, ImGuiWindowFlags_NoScrollbar);
  draw_caution(ui, choices, layout.caution);
  ImGui::End();
  ImGui::PopStyleVar();
  if (!covered) draw_view_tools(ui, desk, choices, layout.view);
  if (!covered) draw_asked(ui, desk, choices, layout.view);
  if (choices.notes) draw_notes(ui, desk, choices, layout);
  for (const DrawerEntry& entry : drawers()) {
    if (entry.drawer == choices.drawer) {
      entry.draw(ui, desk, choices, layout);
      break;  // it may have closed itself
    }
  }
  draw_leaving(ui, desk, choices, {0, 0, layout.caution.width, layout.caution.y + layout.caution.height});
  const bool held = ImGui::GetIO().MouseDown[0] || ImGui::GetIO().MouseDown[1];
  note_edits(desk, !held && ui.typing.empty() && !ImGui::GetIO().WantTextInput);
}

}  // namespace sidehill::screen
