// What is to leave the program: a panel that asks for picture, film, chart, report or the run itself and for a file
// name, and shows how far a film is. Knows Dear ImGui through render/screen/kit/ui; makes nothing itself: whoever calls
// it carries the request out and says what came of it.
#pragma once
#include <optional>
#include <string>

#include "render/namespaces.h"
#include "render/page/page_format.h"
#include "render/screen/kit/ui.h"
#include "sim/insight/lesson.h"

namespace sidehill::screen {

enum class ExportKind { picture, film, chart, report, sheet, labels, card, handout, run };
bool is_page(ExportKind kind);             // printed: paper is chosen
const char* name_of(ExportKind kind);      // "Filling sheet"
std::string usual_file(ExportKind kind);   // "filling_sheet.pdf"
const char* export_help(ExportKind kind);  // of a page, what stands on it

// What a person chose; kept from frame to frame.
struct ExportChoices {
  int kind = 0;                    // ExportKind
  char file[256] = "picture.png";  // as typed; its ending follows kind and format
  int picture_size = 1;            // of export_sizes()
  int film_size = 0;
  int film_format = 0;      // mp4, webm, gif
  int film_speed = 0;       // of film_speeds()
  bool film_labels = true;  // read-outs and labels in the film
  int chart_format = 0;     // svg, png
  int chart_of = 0;         // of chart_kinds()
  page::PaperSize paper = page::PaperSize::a4;
  std::string folder;       // set by the caller: where a name without a folder goes, and what Open folder shows
  bool has_lesson = false;  // set by the caller: one is open, to be printed
  bool has_run = false;     // set by the caller: there is a run to be filmed, drawn over time and kept
  // While something is being made, set by the caller.
  bool busy = false;
  int done = 0, total = 0;  // frames
  std::string said;         // how the last one went: "stump.mp4 is written", or one line of what went wrong
};

// What is to be done now.
struct ExportRequest {
  ExportKind kind = ExportKind::picture;
  std::string file;           // with the right ending
  int width = 0, height = 0;  // [px], of picture or film
  double slow = 1;            // film: so many times slower
  bool labels = true;         // film
  std::string chart_of;       // "heading", "time", "loads", "why", "slopes", "fills"
  page::PaperSize paper = page::PaperSize::a4;
  std::optional<Lesson> lesson;  // of a hand-out
  bool of_other = false;         // of the second set-up
};
struct ExportAnswer {
  std::optional<ExportRequest> make;
  bool open_folder = false;
  bool cancel = false;  // of what is being made
};

// Draws into the current ImGui window, as wide as that is. Items by label: "Export kind", "File name", "Picture size",
// "Film size", "Film format", "Film speed", "Film labels", "Chart of", "Chart format", "Make it", "Cancel",
// "Paper", "Progress", "Folder", "Open folder".
ExportAnswer draw_export(Ui& ui, ExportChoices& choices);

// "A4" and "Letter" as two buttons.
void choose_paper(Ui& ui, ExportChoices& choices);
// A bar of what is done; `words` below it.
void draw_share(Ui& ui, const char* item, double share, const std::string& words);

// The name with the ending that goes with the choices, put in place of a wrong one; "picture.png" for an empty name.
std::string export_file(const ExportChoices& choices);

}  // namespace sidehill::screen
