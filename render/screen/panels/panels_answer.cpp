// Right: the answer. One big number with a sentence, what gives way first, by heading, wheel loads, masses.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/screen/kit/caution.h"
#include "render/screen/panels/panels.h"
#include "render/screen/parts/charts.h"
#include "render/screen/parts/charts_why.h"
#include "render/screen/parts/reading_rows.h"
#include "render/text/rest/verdict_report.h"
#include "sim/base/constants.h"

namespace sidehill::screen {
namespace {

constexpr double kRoomForIntervals = 760;    // of the panel: intervals stand in lines of their own [px]
constexpr double kTwoColumns = 600;          // from this width on the readings stand beside the rest [px]
constexpr const char* kVerdict = "verdict";  // as a reading that is opened

// Moves ImGui's cursor below a hand-drawn block.
void after(ImVec2 corner, float height) {
  ImGui::SetCursorScreenPos({corner.x, corner.y + height});
  ImGui::Dummy({0, 0});
}

// Returns true if the card was pressed.
bool draw_verdict(Ui& ui, const Session& session) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const Verdict verdict = verdict_of(session, ui.units);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, pad = ui.px(12), gap = ui.px(7);
  const float wrap = width - 2 * pad;
  const char* how = "how?";
  const ImVec2 asks = size_of(ui.fonts.small, how);
  const ImFont* heading = ui.fonts.heading;
  const std::vector<std::string> title =
      broken(heading, heading->FontSize, verdict.title, std::max(1.f, wrap - ui.px(28) - asks.x - ui.px(12)));
  const float tab = ui.px(30) + heading->FontSize * 1.2f * static_cast<float>(title.size() - 1);
  const float number_width = verdict.number.empty() ? 0 : size_of(ui.fonts.big, verdict.number).x + ui.px(12);
  const bool short_number = number_width < wrap * 0.6f;
  const float text_width = short_number ? wrap - number_width : wrap;
  const auto tall = [](const ImFont* font, const std::string& text, float room) {
    return text.empty() ? 0.f : size_of(font, in_lines(font, text, room)).y;
  };
  const float words = tall(ui.fonts.text, verdict.detail, text_width);
  const float inner = std::max(verdict.number.empty() ? 0.f : ui.fonts.big->FontSize, words);
  float height = tab + inner + 2 * gap;
  for (const std::string& more : verdict.more) height += tall(ui.fonts.small, more, wrap) + ui.px(3);
  const Rect card{corner.x, corner.y, width, height};
  list.AddRectFilled(card.low(), card.high(), colour(theme::kCard), ui.px(6));
  const Rect strip{corner.x, corner.y, width, tab};
  const Colour fill = fill_of(verdict.tone), ink = ink_on(verdict.tone);
  list.AddRectFilled(strip.low(), strip.high(), colour(fill), ui.px(6), ImDrawFlags_RoundCornersTop);
  const float title_end = pad + ui.px(28) + size_of(heading, title.back()).x + ui.px(12);
  if (title_end < width)
    draw_pattern(list, verdict.tone, {corner.x + title_end, corner.y + tab - ui.px(30), width - title_end, ui.px(30)},
                 with_alpha(ink, 0.55), ui.px(12));
  draw_symbol(list, verdict.tone, {corner.x + pad + ui.px(8), corner.y + ui.px(15)}, ui.px(17), ink);
  float y = corner.y + (ui.px(30) - heading->FontSize) / 2;
  for (const std::string& line : title) {
    text_at(list, heading, {corner.x + pad + ui.px(28), y}, ink, line);
    y += heading->FontSize * 1.2f;
  }
  y = corner.y + tab + gap;
  text_at(list, ui.fonts.big, {corner.x + pad, y + (inner - ui.fonts.big->FontSize) / 2}, theme::kInk, verdict.number);
  text_at(list, ui.fonts.text, {corner.x + pad + (short_number ? number_width : 0), y + (inner - words) / 2},
          theme::kInk, in_lines(ui.fonts.text, verdict.detail, text_width));
  y += inner + ui.px(3);
  for (const std::string& more : verdict.more) {
    text_at(list, ui.fonts.small, {corner.x + pad, y}, theme::kInkSoft, in_lines(ui.fonts.small, more, wrap));
    y += tall(ui.fonts.small, more, wrap) + ui.px(3);
  }
  list.AddRect(card.low(), card.high(), colour(fill), ui.px(6), 0, ui.px(1.5));
  const Rect ask{corner.x + width - pad - asks.x, corner.y + (ui.px(30) - asks.y) / 2, asks.x, asks.y};
  list.AddRectFilled({ask.x - ui.px(6), strip.y}, {strip.x + width - ui.px(6), strip.y + tab}, colour(fill));
  text_at(list, ui.fonts.small, ask.low(), ink, how);
  list.AddLine({ask.x, ask.y + ask.height}, {ask.x + ask.width, ask.y + ask.height}, colour(ink));
  remember_readout(ui, "Verdict", card);
  ImGui::SetCursorScreenPos(card.low());
  bool pressed = ImGui::InvisibleButton("##verdict", {card.width, card.height});
  remember(ui, "How was this found", card);
  tooltip(ui, "How was this found? Press for the method, what it assumes and how far off it may be");
  if (reach(ui, "How was this found", card) && ui.enter) pressed = true;
  after(corner, height + ui.px(2));
  return pressed;
}

void fact(Ui& ui, const char* name, const std::string& value, const std::string& more, const char* help) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::InvisibleButton(name, {width, ui.px(19)});
  remember_readout(ui, name, {corner.x, corner.y, width, ui.px(19)});
  tooltip(ui, help);
  text_at(list, ui.fonts.small, {corner.x, corner.y + ui.px(1)}, theme::kInkSoft, name);
  text_at(list, ui.fonts.text, {corner.x + ui.px(112), corner.y}, theme::kInk, value);
  if (more.empty()) return;
  const float used = ui.px(112) + size_of(ui.fonts.text, value).x + ui.px(4);
  const bool below = used + size_of(ui.fonts.small, more).x > width;  // it would stand on the value
  if (below) ImGui::Dummy({width, ui.px(15)});
  text_at(list, ui.fonts.small, {corner.x + width, corner.y + ui.px(below ? 18 : 1)}, theme::kInkSoft, more, 1);
}

void draw_headings(Ui& ui, Session& session) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x, side = ui.px(138);
  const Rect rect{corner.x + ui.px(10), corner.y + ui.px(16), side, side};
  ImDrawList& list = *ImGui::GetWindowDrawList();
  text_at(list, ui.fonts.small, {rect.middle().x, rect.y - ui.px(16)}, theme::kInkSoft, "uphill", 0.5f);
  text_at(list, ui.fonts.small, {rect.middle().x, rect.y + side}, theme::kInkSoft, "downhill", 0.5f);
  const std::optional<double> wanted = polar_chart(ui, rect, session);
  if (wanted) session.set_number("start.heading_deg", *wanted * 180 / kPi);

  // Beside it, in words.
  const double heading = session.scene().start.heading, slope = session.scene().terrain.slope;
  const float x = rect.x + side + ui.px(16), room = corner.x + width - x;
  float y = corner.y + ui.px(2);
  const auto line = [&](const ImFont* font, Colour ink, const std::string& text) {
    const std::string lines = in_lines(font, text, room);
    text_at(list, font, {x, y}, ink, lines);
    y += size_of(font, lines).y + ui.px(1);
  };
  line(ui.fonts.small, theme::kInkSoft, "This heading, " + signed_degrees(heading));
  line(ui.fonts.text, theme::kInk, heading_words(heading));
  y += ui.px(9);
  const auto lost = static_cast<std::size_t>(
      session.headings_are_of_scene() ? std::ranges::count_if(session.by_heading(), &EnvelopePoint::failed) : 0);
  line(ui.fonts.small, theme::kInkSoft, lost > 0 ? "Worst one solved" : "Worst heading");
  list.AddQuadFilled({x + room - ui.px(8), y - ui.px(15)}, {x + room - ui.px(2), y - ui.px(9)},
                     {x + room - ui.px(8), y - ui.px(3)}, {x + room - ui.px(14), y - ui.px(9)}, colour(theme::kLifted));
  const float worst_top = y;
  if (const auto weakest = weakest_heading(session); weakest && weakest->gives_way()) {
    line(ui.fonts.text, theme::kInk, signed_degrees(weakest->heading) + ": " + heading_words(weakest->heading));
    line(ui.fonts.small, theme::kInkSoft, weakest_words(*weakest, slope));
    line(ui.fonts.small, theme::kInkSoft, weakest_lies(session, *weakest));
    remember_readout(ui, "Worst heading", {x, worst_top, room, y - worst_top});
  } else {
    line(ui.fonts.text, theme::kInk,
         session.headings_are_of_scene() ? lost > 0 ? "none of those solved" : "none slides or lifts a wheel"
         : session.refusal().empty()     ? "being worked out"
                                         : "-");
  }
  if (lost > 0) {
    const float top = y;
    line(ui.fonts.small, theme::kLifted, "Hatched grey: " + no_answer_words(lost, session.by_heading().size()));
    remember_readout(ui, "Headings without an answer", {x, top, room, y - top});
  }
  after(corner, std::max(side + ui.px(32), y - corner.y));
}

// What the number in the card is, where it comes from and how far off it may be.
void draw_verdict_found(Ui& ui, const Session& session, bool open) {
  if (!session.model() || !session.answer_is_of_scene() || !open) return;
  const std::string ways = ways_sentence(session.verdict());
  if (!ways.empty()) draw_note(ui, "Found: what gives way", ways);
  draw_note(ui, "Found: verdict", verdict_found_words(session, ui.units));
}

// Why it lifts there, and what tyres and axles carry; closed at first.
void draw_reasons(Ui& ui, const Session& session, const Model& model) {
  const float width = ImGui::GetContentRegionAvail().x;
  if (folded(ui, "Why a wheel lifts there")) {
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    if (const Breakdown* why = session.breakdown()) {
      const bool even = session.scene().terrain.features.empty();
      const float height = breakdown_height(ui, *why, even);
      breakdown_chart(ui, {corner.x, corner.y + ui.px(3), width, height}, *why, session.scene().terrain.slope, even);
      after(corner, height + ui.px(6));
    } else if (!session.refusal().empty()) {
      soft_text(ui, no_numbers(session), true);
    } else {
      soft_text(ui,
                session.further() ? "With one of its parts away no wheel ever lifts: there is nothing to share out."
                                  : "Being worked out.",
                true);
    }
  }
  if (folded(ui, "What tyres and axles carry")) {
    const bool run = session.showing() == Showing::run;
    if (const std::string none = no_loads(session); !none.empty()) {
      soft_text(ui, none, true);
    } else {
      std::array<double, kWheels> load{};
      for (std::size_t i = 0; i < kWheels; ++i) load[i] = session.shown().wheels[i].load;
      const std::optional<Rest>& rest = session.statics().rest;
      const LoadCheck check =
          !run && rest ? check_loads(session.scene(), model, *rest) : check_loads(session.scene(), model, load);
      const ImVec2 corner = ImGui::GetCursorScreenPos();
      const float height = carrying_height(ui, check);
      carrying_chart(ui, {corner.x, corner.y + ui.px(3), width, height}, check);
      after(corner, height + ui.px(5));
    }
  }
}

}  // namespace

Known known_of(const Session& session) {
  return {session.scene(),         *session.model(),
          session.statics(),       session.showing() == Showing::run ? &session.shown() : nullptr,
          session.worst_heading(), session.headings_complete(),
          session.further(),       session.doubts(),
          session.worst_doubt()};
}

std::string verdict_found_words(const Session& session, Units units) {
  const StandVerdict& verdict = session.verdict();
  if (verdict.headline == StandCause::unsolved)
    return cause_words(verdict.headline, verdict, session.scene(), session.statics()) +
           " Either no pose was found in which all forces balance, or it can rest in more than one way: turned by a "
           "thousandth of a degree it would give quite another answer.";
  const std::vector<Reading> readings =
      readings_of({session.scene(), *session.model(), session.statics(), nullptr, session.worst_heading(),
                   session.headings_complete(), session.further(), session.doubts()});
  // What the card speaks of: what has given way, else what does so first.
  GivesWay what = verdict.gives_way.empty() ? GivesWay::lift_off : verdict.gives_way.front().what;
  if (verdict.headline == StandCause::tipped) what = GivesWay::tip_over;
  if (verdict.headline == StandCause::on_stop || verdict.headline == StandCause::wheel_up) what = GivesWay::lift_off;
  if (verdict.headline == StandCause::slides) what = GivesWay::slide;
  const bool under_way = verdict.headline > StandCause::unsolved && !verdict.gives_way.empty() &&
                         verdict.gives_way.front().doing.has_value();
  const char* id = under_way                    ? "gives_way"
                   : what == GivesWay::slide    ? "slide"
                   : what == GivesWay::tip_over ? "tip_over"
                                                : "first_lift_off";
  const Reading& found = *find_reading(readings, id);
  std::string words = found.name;
  if (under_way)
    words = capital(found.note);
  else if (what == GivesWay::lift_off && !found.note.empty())
    words = "The " + found.note + " wheel lifts";
  words += found.value ? " at " + value_and_interval(found, units) : ": " + found.instead;
  return words + ". " + found_words(found, units);
}

namespace {

// Worst first: what is left, what gives way, the headings, loads, mass. False where there is no machine to speak of.
bool draw_answer_first(Ui& ui, Session& session, ViewChoices& choices) {
  if (draw_verdict(ui, session)) choices.opened_reading = choices.opened_reading == kVerdict ? "" : kVerdict;
  draw_verdict_found(ui, session, choices.opened_reading == kVerdict);
  const Model* model = session.model();
  if (!model || !session.refusal().empty()) return false;  // the card says why; nothing below is of this machine
  if (!session.run_refusal().empty()) {
    wrapped_words("Cannot be set in motion: " + session.run_refusal());
  }
  const float width = ImGui::GetContentRegionAvail().x;

  section(ui, "What gives way, by slope", "| now " + degrees_and_percent(session.scene().terrain.slope));
  ImVec2 corner = ImGui::GetCursorScreenPos();
  const bool known = session.answer_is_of_scene();  // else what there is, is of an earlier scene
  std::vector<Threshold> thresholds =
      thresholds_of(session.scene(), known ? session.statics() : StaticSolution{},
                    known ? session.verdict() : StandVerdict{}, known ? session.doubts() : nullptr);
  if (!known)
    for (Threshold& t : thresholds) t.instead = "-";
  const float height = ui.px(ImGui::GetWindowHeight() < ui.px(kRoomForIntervals) ? kLowThresholdRow : kThresholdRow) *
                       static_cast<float>(thresholds.size());
  thresholds_chart(ui, {corner.x, corner.y, width, height}, thresholds, session.scene().terrain.slope);
  after(corner, height);
  section(ui, "Slope at which it gives way, by heading");
  draw_headings(ui, session);

  const double mass = total_mass(*model), weight = mass * model->gravity;
  section(ui, session.showing() == Showing::run ? "Wheel loads, at this moment" : "Wheel loads, at rest");
  corner = ImGui::GetCursorScreenPos();
  if (const std::string no_load = no_loads(session); !no_load.empty()) {
    wrapped_words(no_load);
  } else {
    load_chart(ui, {corner.x, corner.y, width, ui.px(68)}, session.shown(), weight);
    after(corner, ui.px(68));
  }

  section(ui, "Mass");
  if (const std::string none = session.showing() == Showing::run ? "" : no_numbers(session); !none.empty()) {
    wrapped_words(none);  // nor has it one
    return false;
  }
  const Vec3 cg = centre_of_gravity(*model);
  // Inches alone: two measures of feet and inches do not fit into the line.
  const ShownUnit unit = shown_unit(Quantity::length, ui.units);
  const auto length = [&](double si) { return fmt::format("{:.{}f} {}", si * unit.factor, unit.digits, unit.name); };
  // On level ground the axles share the weight by where the centre of gravity lies between them.
  const double front = std::clamp(cg.x / model->wheelbase, 0.0, 1.0);
  fact(ui, "Total, axle split", shown(Quantity::mass, mass, ui.units),
       fmt::format("front {} / rear {}", percent(front), percent(1 - front)),
       "Of everything: machine, ballast, load, driver. Split on level ground.");
  fact(ui, "Centre of gravity", fmt::format("{} up, {} ahead", length(cg.z), length(cg.x)),
       std::abs(cg.y) < 0.005 ? "" : fmt::format("{} {}", length(std::abs(cg.y)), cg.y >= 0 ? "left" : "right"),
       "Of everything, on level ground: above the ground, ahead of the rear axle, to the left or right of the middle.");
  // Where it meets something, or moves, a run says more than the machine at rest.
  if (session.scene().programme.speed > 0 || !session.scene().terrain.features.empty()) {
    if (button(ui, "Slope limit", Icon::none, help_for("Slope limit"), choices.drawer == Drawer::slope_limit))
      pull(Drawer::slope_limit, choices);
  }
  return true;
}

void draw_kilograms(Ui& ui, const Model& model) {
  const float width = ImGui::GetContentRegionAvail().x;
  const bool open = folded(ui, "Every kilogram");
  ImGui::PushFont(ui.fonts.small);
  if (open) {
    for (const LedgerLine& line : model.ledger) {
      const ImVec2 at = ImGui::GetCursorScreenPos();
      ImGui::TextUnformatted(fitted(ui.fonts.small, line.name, width - ui.px(76)).c_str());
      text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, {at.x + width, at.y}, theme::kInk,
              shown(Quantity::mass, line.props.mass, ui.units), 1);
    }
  }
  ImGui::PopFont();
}

}  // namespace

void draw_answer(Ui& ui, Session& session, ViewChoices& choices) {
  const auto readings = [&] {
    return session.answer_is_of_scene() ? readings_of(known_of(session)) : std::vector<Reading>{};
  };
  if (ImGui::GetContentRegionAvail().x < ui.px(kTwoColumns)) {
    if (!draw_answer_first(ui, session, choices)) return;
    draw_reasons(ui, session, *session.model());
    if (folded(ui, "Every reading, and how it was found")) draw_readings(ui, readings(), choices.opened_reading);
    draw_kilograms(ui, *session.model());
    return;
  }
  // A wide window has room for all of it beside each other.
  const float gap = ui.px(16), half = std::floor((ImGui::GetContentRegionAvail().x - gap) / 2);
  ImGui::BeginChild("##first", {half, 0}, false, ImGuiWindowFlags_NoNav);
  const bool there = draw_answer_first(ui, session, choices);
  if (there) {
    draw_reasons(ui, session, *session.model());
    draw_kilograms(ui, *session.model());
  }
  ImGui::EndChild();
  ImGui::SameLine(0, gap);
  ImGui::BeginChild("##readings", {half, 0}, false, ImGuiWindowFlags_NoNav);
  if (there) {
    const std::vector<Reading> all = readings();
    section(ui, "Every reading, and how it was found");
    draw_readings(ui, all, choices.opened_reading, {}, row_height_for(ui, all, ImGui::GetContentRegionAvail().y));
  }
  ImGui::EndChild();
}

}  // namespace sidehill::screen
