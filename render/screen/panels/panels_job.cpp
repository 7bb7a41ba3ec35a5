#include "render/screen/panels/panels_job.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "render/screen/kit/caution.h"
#include "render/screen/parts/charts.h"
#include "render/text/job/job_slope_words.h"
#include "render/text/job/rule_words.h"
#include "render/text/job/work_report.h"
#include "render/text/words/words.h"
#include "sim/job/at_work.h"
#include "sim/scene/data_files.h"
#include "sim/scene/scene_file.h"

namespace sidehill::screen {
namespace {

constexpr double kWidth = 430, kLine = 26, kName = 96;  // [px]

// The words of a choice, without their underlines.
std::vector<std::string> words_of(std::string_view key) {
  std::vector<std::string> words;
  if (const auto* field = std::get_if<ChoiceField>(&find_field(key)->kind))
    for (const std::string_view word : field->choices) {
      words.emplace_back(word);
      std::ranges::replace(words.back(), '_', ' ');
    }
  return words;
}

// One of the eight lines: its name, then what is put into it from left to right, on further lines where there is no
// room. `steps`: every number has buttons, so that nobody needs a keyboard.
struct Line {
  Ui& ui;
  Session& session;
  bool steps;
  ImVec2 corner;  // of the line being filled
  float left, x, right;

  Line(Ui& u, Session& s, bool with_steps, const char* name)
      : ui(u),
        session(s),
        steps(with_steps),
        corner(ImGui::GetCursorScreenPos()),
        left(corner.x + u.px(kName)),
        x(left),
        right(corner.x + ImGui::GetContentRegionAvail().x) {
    text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, {corner.x, corner.y + ui.px(5)}, theme::kInkSoft, name);
  }
  Line(const Line&) = delete;
  Line& operator=(const Line&) = delete;
  ~Line() {
    ImGui::SetCursorScreenPos({corner.x, corner.y + ui.px(kLine)});
    ImGui::Dummy({0, 0});
  }

  // The drawer has a width that all of it fits into; a narrow column has not.
  void need(float width) {
    if (!steps || x + width <= right || x <= left) return;
    corner.y += ui.px(kLine);
    x = left;
  }
  void put(const char* key, float width) {
    int index = session.choice(key);
    const std::vector<std::string> words = words_of(key);
    const float wanted = size_of(ui.fonts.text, words.at(static_cast<std::size_t>(index))).x + ui.px(16);
    need(std::min(wanted, ui.px(width)));
    ImGui::SetCursorScreenPos({x, corner.y + ui.px(2)});
    if (sidehill::screen::choice(ui, key, words, index, find_field(key)->help, ui.px(width)))
      session.set_choice(key, index);
    x += steps ? std::min(wanted, ui.px(width)) + ui.px(8) : ui.px(width + 8);
  }
  // A number with its unit behind it.
  void number(const char* key, float width = 52) {
    const Field& field = *find_field(key);
    const auto& kind = std::get<NumberField>(field.kind);
    const TypedUnit typed = typed_unit(key, ui.units, kind.max);
    need(ui.px(width + 4) + size_of(ui.fonts.small, typed.unit).x + (steps ? ui.px(50) : 0));
    double value = typed.shown(file_value(kind, session.scene()));
    ImGui::SetCursorScreenPos({x, corner.y});
    ImGui::PushID(key);
    ImGui::PushFont(ui.fonts.small);
    ImGui::SetNextItemWidth(ui.px(width));
    before_field(ui, key);
    ImGui::InputDouble("##value", &value, 0, 0, "%.4g");
    after_field(ui, key);
    if (ImGui::IsItemDeactivatedAfterEdit()) session.set_number(key, typed.file(value));
    tooltip(ui, fmt::format("{} ({})", field.help, allowed(field)));
    x += ui.px(width + 4);
    text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, {x, corner.y + ui.px(5)}, theme::kInkSoft, typed.unit);
    x += size_of(ui.fonts.small, typed.unit).x + ui.px(steps ? 4 : 9);
    if (steps) step_buttons(key, typed, kind, value);
    ImGui::PopFont();
    ImGui::PopID();
  }
  // A twentieth of what is there, in round steps; of little a twentieth of a twentieth of all there may be.
  void step_buttons(const std::string& key, const TypedUnit& typed, const NumberField& kind, double value) {
    const double least = 0.05 * std::abs(typed.shown(kind.max) - typed.shown(kind.min));
    const double step = page::tick_step(std::max(std::abs(value), least), 20);
    for (const int way : {-1, 1}) {
      ImGui::SetCursorScreenPos({x, corner.y + ui.px(2)});
      const Rect rect{x, corner.y + ui.px(2), ui.px(20), ui.px(kLine - 4)};
      const std::string item = key + (way < 0 ? " less" : " more");
      bool pressed = ImGui::InvisibleButton(item.c_str(), {rect.width, rect.height});
      remember(ui, item, rect);
      if (reach(ui, item, rect) && ui.enter) pressed = true;
      ImDrawList& list = *ImGui::GetWindowDrawList();
      list.AddRectFilled(rect.low(), rect.high(), colour(ImGui::IsItemHovered() ? theme::kTrough : theme::kCard),
                         ui.px(4));
      list.AddRect(rect.low(), rect.high(), colour(theme::kRule), ui.px(4));
      const ImVec2 middle = rect.middle();
      list.AddLine({middle.x - ui.px(4), middle.y}, {middle.x + ui.px(4), middle.y}, colour(theme::kInk), ui.px(1.5));
      if (way > 0)
        list.AddLine({middle.x, middle.y - ui.px(4)}, {middle.x, middle.y + ui.px(4)}, colour(theme::kInk), ui.px(1.5));
      if (pressed) session.set_number(key, typed.file(std::round((value + way * step) / step) * step));
      x += ui.px(22);
    }
    x += ui.px(6);
  }
  // `speaks_of_next`: it is not parted from what comes behind it.
  void word(const char* text, bool speaks_of_next = true) {
    const float width = size_of(ui.fonts.small, text).x + ui.px(5);
    need(width + (speaks_of_next ? ui.px(60) : 0));
    text_at(*ImGui::GetWindowDrawList(), ui.fonts.small, {x, corner.y + ui.px(5)}, theme::kInkSoft, text);
    x += width;
  }
  void box(const char* key, const char* label) {
    const float width = size_of(ui.fonts.small, label).x + ui.px(36);
    need(width);
    ImGui::SetCursorScreenPos({x, corner.y + ui.px(1)});
    ImGui::PushFont(ui.fonts.small);
    bool on = session.flag(key);
    if (tick(ui, label, on, find_field(key)->help)) session.set_flag(key, on);
    ImGui::PopFont();
    x += width;
  }
};

void draw_shipped(Ui& ui, Session& session) {
  std::vector<std::string> names{"choose one that comes with the program"};
  const auto files = job_files();
  for (const auto& file : files) names.push_back(file.stem().string());
  for (std::string& name : names) std::ranges::replace(name, '_', ' ');
  int index = 0;
  if (choice(ui, "Job that comes with the program", names, index, "Fills in all eight lines",
             ImGui::GetContentRegionAvail().x) &&
      index > 0) {
    take_job(session, files[static_cast<std::size_t>(index - 1)]);
  }
  ImGui::Dummy({0, ui.px(3)});
}

Tone rule_tone(const RuleAnswer& rule) {
  if (rule.state == RuleState::met) return Tone::steady;
  if (rule.state == RuleState::not_known) return Tone::unknown;
  return rule.limit ? Tone::limit : Tone::near;
}

}  // namespace

void take_job(Session& session, const std::filesystem::path& file) {
  Scene scene = session.scene();
  scene.job = load_job(file.filename().string(), file.parent_path());
  scene.job_file = file.stem().string();
  session.edit(std::move(scene));
}

void draw_job_form(Ui& ui, Session& session, bool steps) {
  draw_shipped(ui, session);
  {
    Line line(ui, session, steps, "Work");
    line.put("job.work", 200);
  }
  {
    Line line(ui, session, steps, "Implement");
    line.put("job.hitch", 78);
    line.number("job.implement_mass_kg");
    line.word("takes");
    line.number("job.pull_kn", 44);
  }
  {
    Line line(ui, session, steps, "At work");
    line.number("job.working_speed_kmh", 44);
    line.number("job.working_time_h", 52);
    line.word("a year", false);
  }
  {
    Line line(ui, session, steps, "On roads");
    line.number("job.road_speed_kmh", 44);
    line.number("job.road_time_h", 52);
    line.word("a year", false);
  }
  {
    Line line(ui, session, steps, "Ground");
    line.put("job.ground", 78);
    line.box("job.wet", "wet");
    line.word("or cone index");
    line.number("job.cone_index_kpa", 48);
  }
  {
    Line line(ui, session, steps, "Steepest");
    line.number("job.steepest_deg", 44);
    line.put("job.headings", 130);
  }
  {
    Line line(ui, session, steps, "Coldest night");
    line.number("job.coldest_c", 44);
    line.word("filled by");
    line.put("job.filled_by", 110);
  }
  {
    Line line(ui, session, steps, "Tyres");
    line.word("tubes");
    line.put("job.tubes", 84);
    line.word("liquid permitted");
    line.put("job.liquid_permitted", 84);
  }
}

// Every rule's worst row, the worst rule on top; the others are in its help.
void draw_rule_checklist(Ui& ui, const std::vector<RuleAnswer>& rules, const Scene& scene, const std::string& letter) {
  ImDrawList& list = *ImGui::GetWindowDrawList();
  for (std::size_t i = 0; i < rules.size(); ++i) {
    const RuleAnswer& rule = rules[i];
    if (i > 0 && rules[i - 1].id == rule.id) continue;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const float width = ImGui::GetContentRegionAvail().x, row = ui.px(20);
    draw_symbol(list, rule_tone(rule), {corner.x + ui.px(7), corner.y + ui.px(8)}, ui.px(12),
                rule_tone(rule) == Tone::near ? theme::kInkSoft : fill_of(rule_tone(rule)));
    const std::string margin = margin_words(rule, ui.units);
    const std::string right = rule.state == RuleState::not_known ? "not known"
                              : !margin.empty()                  ? margin
                              : rule.state == RuleState::met     ? "met"
                                                                 : "not met";
    const Colour ink = rule.limit && rule.state == RuleState::not_met ? theme::kLifted : theme::kInk;
    text_at(list, ui.fonts.small, {corner.x + width, corner.y + ui.px(1)}, ink, right, 1);
    text_at(list, ui.fonts.small, {corner.x + ui.px(20), corner.y + ui.px(1)}, ink,
            fitted(ui.fonts.small, capital(rule_words(rule.id, scene.ballast)),
                   width - ui.px(28) - size_of(ui.fonts.small, right).x));
    std::string help = capital(rule_words(rule.id, scene.ballast)) + ".";
    for (std::size_t k = i; k < rules.size() && rules[k].id == rule.id; ++k) {
      const RuleAnswer& one = rules[k];
      help += fmt::format("\nAsked {}, there {}{}{} ({}: {}).", asked_words(one, ui.units), there_words(one, ui.units),
                          one.when.empty() ? "" : "; ", one.when, kind_words(one.kind), one.source);
      if (const std::string cure = cure_words(one, scene, ui.units); !cure.empty())
        help += " What helps: " + cure + ".";
    }
    hover_help(ui, "Rule" + letter + ": " + rule_key(rule.id), {corner.x, corner.y, width, row}, help);
    ImGui::SetCursorScreenPos({corner.x, corner.y + row});
    ImGui::Dummy({0, 0});
  }
}

namespace {

struct Side {
  std::string letter;  // " A", or empty where there is only one
  const Session* session;
  RuleReport rules;
  WorkAnswer work;
};

page::ChartBar bar(std::string name, std::optional<double> value, std::string words, bool bad) {
  page::ChartBar out;
  out.name = std::move(name);
  out.words = std::move(words);
  if (value && std::isfinite(*value)) out.from = 0, out.to = *value;
  out.paint = bad ? theme::kLifted : theme::kLoad;
  out.fill = bad ? Pattern::hatched : Pattern::plain;
  return out;
}

// Rows of one quantity for each set-up, on a scale of their own.
void draw_bars(Ui& ui, const char* item, std::vector<page::ChartBar> bars, double most, const std::string& help) {
  page::Chart chart;
  chart.kind = ChartKind::bars;
  chart.y.high = most;
  for (const page::ChartBar& one : bars)
    if (one.to) chart.y.high = std::max(chart.y.high, *one.to);
  chart.bars = std::move(bars);
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const Rect rect{corner.x, corner.y, ImGui::GetContentRegionAvail().x,
                  ui.px(27) * static_cast<float>(chart.bars.size())};
  paint_rows(ui, rect, std::move(chart), {.row = 27});
  hover_help(ui, item, rect, help);
  ImGui::SetCursorScreenPos({corner.x, corner.y + rect.height + ui.px(2)});
  ImGui::Dummy({0, 0});
}

std::string slip_words(const PullAtWork& pull) {
  switch (pull.answer.kind) {
    case PullKind::pulls:
      return fmt::format("{:.1f} %", 100 * pull.answer.rear_slip);
    case PullKind::needs_no_drive:
      return "no slip";
    case PullKind::axle_lifts:
      return "AN AXLE LIFTS";
    case PullKind::out_of_reach:
      return "CANNOT PULL IT";
  }
  return "-";
}

void draw_grip_and_fuel(Ui& ui, const std::vector<Side>& sides) {
  std::vector<page::ChartBar> slips, uphills, powers, fuels;
  for (const Side& side : sides) {
    const WorkAnswer& work = side.work;
    if (!work.known) {
      slips.push_back(bar("Slip, level" + side.letter, {}, "not known on mud", false));
      continue;
    }
    const auto slip = [](const PullAtWork& pull) {
      return pull.answer.kind == PullKind::pulls ? std::optional(pull.answer.rear_slip) : std::nullopt;
    };
    slips.push_back(bar("Slip, level" + side.letter, slip(work.level), slip_words(work.level),
                        slip(work.level).value_or(0) > 0.15));
    if (work.uphill.slope > 0)
      uphills.push_back(bar("Slip, uphill" + side.letter, slip(work.uphill), slip_words(work.uphill),
                            slip(work.uphill).value_or(0) > 0.15));
    if (work.load_share > 0)
      powers.push_back(
          bar("Of the rated power" + side.letter, work.load_share, percent(work.load_share), work.load_share > 1));
    if (work.work_rate)
      fuels.push_back(bar("Fuel at work, an hour" + side.letter, *work.work_rate / 1e3,
                          shown(Quantity::volume, *work.work_rate / 1e3, ui.units), false));
    if (work.ballast > 0)
      fuels.push_back(bar("To roll the ballast, a year" + side.letter, {},
                          shown(Quantity::volume, work.ballast_year / 1e3, ui.units), false));
  }
  draw_bars(ui, "Job: slip", std::move(slips), 0.2,
            "Slip of the rear wheels by the traction equations, both axles with the load they carry under the pull. "
            "Hatched above 15 %. The coefficients are not checked against the printed standard.");
  if (!uphills.empty())
    draw_bars(ui, "Job: slip uphill", std::move(uphills), 0.2,
              "The same straight up the job's steepest slope: the weight's pull down the slope is part of the pull.");
  if (!powers.empty())
    draw_bars(ui, "Job: power", std::move(powers), 1,
              "Power at the wheels over 85 % of the rated power (our assumption).");
  if (!fuels.empty())
    draw_bars(ui, "Job: fuel", std::move(fuels), 0,
              "Part load by Grisso et al. 2004 at full throttle; the ballast's part by its rolling resistance.");
}

// Whether a set-up stands on the job's slope, as soon as its other headings are known.
void draw_stands(Ui& ui, const Side& side) {
  const SetUpAnswer* set_up = side.session->turned_is_known() ? side.session->set_up() : nullptr;
  const Job& job = side.session->scene().job;
  if (!set_up || job.work == Work::none || !(job.slope > 0)) return;
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const bool stands = text::on_job(job.slope, set_up->on_job, set_up->on_job_range) == text::OnJob::stands;
  ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(stands ? theme::kInk : theme::kLifted));
  wrapped_words((side.letter.empty() ? "" : side.letter.substr(1) + ": ") +
                text::stands_on_job(job.slope, set_up->on_job, set_up->on_job_range));
  ImGui::PopStyleColor();
  remember_readout(ui, "Job: stands" + side.letter, {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(18)});
}

// The worst of the rules of each set-up, before the form is read.
void draw_worst(Ui& ui, const std::vector<Side>& sides) {
  for (const Side& side : sides) draw_stands(ui, side);
  for (const Side& side : sides) {
    const auto count = [&](RuleState state) {
      return std::ranges::count_if(side.rules.rules,
                                   [&](const RuleAnswer& rule) { return rule.limit && rule.state == state; });
    };
    const RuleAnswer first = worst_first(side.rules.rules).front();
    const bool broken = first.limit && first.state == RuleState::not_met;
    std::string words =
        fmt::format("{}Limits not met: {}, not known: {}.", side.letter.empty() ? "" : side.letter.substr(1) + ": ",
                    count(RuleState::not_met), count(RuleState::not_known));
    if (broken)
      words += fmt::format(" {}: {}.", capital(rule_words(first.id, side.session->scene().ballast)),
                           margin_words(first, ui.units));
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(broken ? theme::kLifted : theme::kInk));
    wrapped_words(words);
    ImGui::PopStyleColor();
    remember_readout(ui, "Job: worst" + side.letter, {corner.x, corner.y, ImGui::GetContentRegionAvail().x, ui.px(18)});
  }
}

}  // namespace

void draw_job(Ui& ui, Desk& desk, ViewChoices& choices, Rect view) {
  ImGui::SetNextWindowPos({view.x + view.width - ui.px(12), view.y + ui.px(52)}, ImGuiCond_Always, {1, 0});
  const float width = std::min(view.width - ui.px(24), ui.px(kWidth));
  ImGui::SetNextWindowSize({width, std::max(1.f, view.height - ui.px(60))});
  ImGui::PushStyleColor(ImGuiCol_WindowBg, vector_colour(theme::kCard));
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 1.f);
  ImGui::Begin("Job", nullptr,
               ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoNav);
  if (button(ui, "Close the job", Icon::close, "Back to the picture. Keys: Escape, J") || escape_pressed())
    pull(Drawer::none, choices);

  std::vector<Side> sides;
  const auto take = [&](const Session& session, const char* letter) {
    if (!session.model() || !session.refusal().empty()) return;
    Side side{letter, &session, rules_on(session.scene(), *session.model()), {}};
    side.work = at_work(session.scene(), *session.model(), side.rules);
    sides.push_back(std::move(side));
  };
  const bool two = two_shown(desk);
  take(desk.session, two ? " A" : "");
  if (two) take(*desk.other, " B");
  const bool hidden = hides_numbers(desk, choices);  // they would give the lesson's answer away
  if (hidden)
    soft_text(ui, "Rules, grip and fuel stand here once the class has guessed.", true);
  else
    draw_worst(ui, sides);
  // The form may change the scene; what is drawn below it is then of the frame before.
  draw_job_form(ui, desk.edited());
  if (hidden) sides.clear();
  for (const Side& side : sides)
    for (const std::string& words : work_warnings(side.work, side.session->scene(), ui.units)) {
      ImGui::PushStyleColor(ImGuiCol_Text, vector_colour(theme::kLifted));
      wrapped_words((side.letter.empty() ? "" : side.letter.substr(1) + ": ") + words);
      ImGui::PopStyleColor();
    }
  if (!sides.empty() && sides.front().session->scene().job.work != Work::none) {
    section(ui, "Grip and fuel in the job");
    draw_grip_and_fuel(ui, sides);
  }
  for (const Side& side : sides) {
    section(ui, ("Rules" + (side.letter.empty() ? std::string() : "," + side.letter)).c_str(), "worst first");
    draw_rule_checklist(ui, worst_first(side.rules.rules), side.session->scene(), side.letter);
  }
  ImGui::End();
  ImGui::PopStyleVar();
  ImGui::PopStyleColor();
}

}  // namespace sidehill::screen
