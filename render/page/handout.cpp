#include "render/page/handout.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "render/page/form.h"
#include "render/page/paper.h"
#include "render/page/provenance.h"
#include "render/text/motion/lesson_report.h"
#include "render/text/words/words.h"

namespace sidehill::page {
namespace {

constexpr double kWords = 12, kAnswer = 13;  // letters of words and of answers [pt]

// Lines to write on, down to `foot`.
void write_lines(Paper& paper, double foot) {
  constexpr double kRow = 24;
  for (double y = paper.y() + kRow; y <= foot; y += kRow)
    add_line(paper.sheet(), {Paper::kMargin, y}, {paper.width() - Paper::kMargin, y}, palette::kInkSoft, 0.5);
  paper.go_to(foot);
}

void draw_picture(Paper& paper, const Handout& handout, double height) {
  const ReportPicture& picture = handout.picture;
  const double top = paper.y() + 8;
  if (picture.rgba.empty()) {
    add_rectangle(paper.sheet(), Paper::kMargin, top, paper.room(), height, Pattern::none, palette::kCard,
                  palette::kInkSoft, 0.75);
    add_text(paper.sheet(), Paper::kMargin + 8, top + 15, "Draw the machine on its ground here.", 10,
             palette::kInkSoft);
    paper.go_to(top + height);
    return;
  }
  const double shape = static_cast<double>(picture.height) / picture.width;
  const double width = std::min(paper.room() * 0.66, height / shape);
  paper.page_now().photos.push_back(
      {Paper::kMargin, top, width, width * shape, picture.width, picture.height, picture.rgba});
  add_rectangle(paper.sheet(), Paper::kMargin, top, width, width * shape, Pattern::none, palette::kCard,
                palette::kInkSoft, 0.75);
  // Beside it room to draw.
  const double left = Paper::kMargin + width + 10;
  add_rectangle(paper.sheet(), left, top, paper.width() - Paper::kMargin - left, width * shape, Pattern::none,
                palette::kCard, palette::kInkSoft, 0.75);
  double y = top + 2;
  for (const std::string& line : wrapped("Draw here what will happen.", paper.width() - Paper::kMargin - left - 12, 10))
    add_text(paper.sheet(), left + 6, y += 13, line, 10, palette::kInkSoft);
  paper.go_to(top + width * shape);
  if (!picture.drawn.empty()) paper.paragraph(picture.drawn, false, 0, 0, 8);
}

void front(Paper& paper, const Handout& handout, Units units) {
  const Lesson& lesson = handout.lesson;
  const auto read = [units](const std::string& words) { return read_in(words, units); };
  constexpr double kFields = 225;
  add_fitted(paper.sheet(), Paper::kMargin, 50, fmt::format("{:g}  {}", lesson.number, lesson.title), 20,
             paper.room() - kFields - 14, true);
  draw_fields(paper.sheet(), {"name", "date"}, paper.width() - Paper::kMargin - kFields, 50, kFields, 10);
  paper.go_to(54);
  paper.paragraph(read(lesson.story), false, 0, 0, kWords);
  paper.paragraph(capital(read(fmt::format("{}, on {}.", handout.scene.vehicle.name, handout.scene.terrain.soil.name))),
                  false, 0, 0, 9);
  for (const std::string& change : handout.changes)
    paper.paragraph("Changed from the lesson: " + read(change_words(change)), true, 0, 0, 9);
  draw_picture(paper, handout, 205);
  paper.skip(8);
  paper.paragraph(read(lesson.question), true, 0, 0, 14);
  paper.skip(4);
  for (std::size_t i = 0; i < lesson.answers.size(); ++i) {
    const double top = paper.y() + 8;
    add_rectangle(paper.sheet(), Paper::kMargin + 2, top, 13, 13, Pattern::none, palette::kCard, palette::kInk, 1.2);
    paper.skip(2);
    paper.paragraph(fmt::format("{}  {}", i + 1, read(lesson.answers[i].text)), false, 26, paper.room() - 26, kAnswer);
    paper.skip(3);
  }
  paper.skip(8);
  paper.paragraph("Tick one answer before anybody shows what happens. Why do you think so?", true, 0, 0, 11);
  write_lines(paper, paper.height() - 62);
}

void block(Paper& paper, const char* name, const std::string& words, double size) {
  if (words.empty()) return;
  paper.skip(12);
  paper.paragraph(name, true, 0, 0, 12);
  paper.skip(1);
  paper.paragraph(words, false, 0, 0, size);
}

// In a tyre of any of the set-ups that the lesson looks at.
bool any_liquid(const Handout& handout) {
  const Lesson& lesson = handout.lesson;
  return holds_liquid(handout.scene.ballast) || holds_liquid(scene_of(lesson, SetUp::a).ballast) ||
         (!lesson.second.empty() && holds_liquid(scene_of(lesson, SetUp::b).ballast)) ||
         (!lesson.third.empty() && holds_liquid(scene_of(lesson, SetUp::c).ballast));
}

void back(Paper& paper, const Handout& handout, Units units) {
  const Lesson& lesson = handout.lesson;
  const LessonTruth& truth = handout.truth;
  const auto read = [units](const std::string& words) { return read_in(words, units); };
  add_text(paper.sheet(), Paper::kMargin, 50, fmt::format("{:g}  {}: the answer", lesson.number, lesson.title), 18,
           palette::kInk, true);
  paper.go_to(64);
  const std::string right = fmt::format("Right is {}: {}.", truth.right + 1, read(lesson.answers[truth.right].text));
  const std::vector<std::string> lines = wrapped(right, paper.room() - 20, 15, true);
  const double top = paper.y();
  add_rectangle(paper.sheet(), Paper::kMargin, top, paper.room(), 21 * static_cast<double>(lines.size()) + 12,
                Pattern::none, palette::kCard, palette::kInk, 2.2);
  for (std::size_t i = 0; i < lines.size(); ++i)
    add_text(paper.sheet(), Paper::kMargin + 10, top + 22 + 21 * static_cast<double>(i), lines[i], 15, palette::kInk,
             true);
  paper.go_to(top + 21 * static_cast<double>(lines.size()) + 14);
  block(paper, "What happens", read(truth_sentence(lesson, truth)), kWords);
  block(paper, "Why",
        read(lesson.because) +
            (handout.changes.empty() ? "" : " (Written for the lesson as it was before it was changed.)"),
        kWords);
  block(paper, "How sure (an estimate by calculation)", read(doubt_sentence(lesson, truth)), 11);
  block(paper, "Caution", read(lesson.caution), kWords);
  block(paper, "To remember", read(lesson.take_home), kWords);
  if (!lesson.source.empty()) block(paper, "Source", lesson.source, 9.5);
  std::string limits = read_in(answer_limits_words(any_liquid(handout)), units);
  std::replace(limits.begin(), limits.end(), '\n', ' ');
  block(paper, "What is not in it", limits, 9.5);
  paper.skip(14);
  paper.paragraph("What I did not know before:", true, 0, 0, 12);
  write_lines(paper, paper.height() - 62);
}

}  // namespace

nlohmann::ordered_json handout_json(const Handout& handout) {
  nlohmann::ordered_json json = truth_json(handout.lesson, handout.truth, {});
  json["machine"] = handout.scene.vehicle.name;
  json["ground"] = handout.scene.terrain.soil.name;
  json["limits"] = answer_limits_words(any_liquid(handout));
  return json;
}

std::vector<PdfPage> handout_pages(const Handout& handout, Units units, PaperSize size) {
  Paper paper(size);
  front(paper, handout, units);
  paper.go_to(paper.height());
  paper.need(1);
  back(paper, handout, units);
  return paper.finish(kCautionLine, made_by(handout.scene));
}

void write_handout(const std::filesystem::path& path, const Handout& handout, Units units, PaperSize size) {
  write_pdf(path, handout_pages(handout, units, size), "Lesson: " + handout.lesson.title);
}

}  // namespace sidehill::page
