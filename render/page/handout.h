// A lesson on paper: the question in front, what is right and why on the back. Knows the lesson; no drawing library, no
// screen: a picture of the scene is handed in as pixels.
#pragma once
#include <filesystem>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/page/report.h"
#include "sim/insight/lesson.h"

namespace sidehill::page {

struct Handout {
  Lesson lesson;
  LessonTruth truth;                 // of judge(lesson)
  Scene scene;                       // that is asked about
  ReportPicture picture;             // of it; no pixels = a blank frame to draw in
  std::vector<std::string> changes;  // "key=value" that the file does not have, already in `lesson`; mostly none
};

// Two pages, front and back of one sheet.
std::vector<PdfPage> handout_pages(const Handout& handout, Units units = Units::si, PaperSize size = PaperSize::a4);

// What stands on both sides, in SI: truth_json of the lesson, with `machine`, `ground` and `limits` of the pages.
nlohmann::ordered_json handout_json(const Handout& handout);

// As PDF, written to a temporary name, then renamed; same lesson, same bytes. Throws InputError if it cannot be
// written.
void write_handout(const std::filesystem::path& path, const Handout& handout, Units units = Units::si,
                   PaperSize size = PaperSize::a4);

}  // namespace sidehill::page
