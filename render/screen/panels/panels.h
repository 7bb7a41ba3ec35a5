// The panels of the window over a Desk: what there is to do along the top, set-up on the left, answer on the right,
// what it does now above the picture, controls and time below it, cautions at the foot. Know Dear ImGui and the Desk;
// no OpenGL, no window, so that they can be tested without either.
#pragma once
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/desk/desk.h"
#include "render/screen/desk/files.h"
#include "render/screen/desk/lesson_play.h"
#include "render/screen/desk/readings.h"
#include "render/screen/kit/ui.h"
#include "render/screen/parts/export_form.h"
#include "render/screen/parts/find_field.h"
#include "render/screen/parts/machine_form.h"
#include "render/screen/placing/placing.h"
#include "render/screen/scene3d/camera.h"

namespace sidehill::screen {

inline constexpr const char* kUnsavedFound = "Unsaved work was found: see Open";

// What is laid over the picture, one at a time.
enum class Drawer { none, files, ground, machine, job, filling, side_by_side, loader_map, slope_limit, weigh, make };

// What there is to open, as it was read from the disk a moment ago.
struct FileLists {
  double read_at = -1e9;  // [s] of ImGui's clock
  std::filesystem::path folder;
  std::vector<FolderEntry> entries;
  std::vector<std::filesystem::path> recent;
  std::vector<UnsavedWork> unsaved;
};

// Something a person wants that takes their unsaved work off the desk: it waits for their answer.
struct Leaving {
  enum class For { file, unsaved_work, end } what = For::end;
  std::filesystem::path file;  // to open
  UnsavedWork work;            // to take up
  char save_as[1024] = {};     // where Save puts the work
  std::string wrong;           // why it was not saved; empty = nothing
  bool replaces = false;       // that file is there: Save was pressed once
};

// How the plan is looked at.
struct PlanChoices {
  int up = 0, across = 1;                  // PlanColumn of the chart's axes
  float ask_foot = 190, pages_foot = 110;  // heights of what stands at the foot of the sides, as drawn last [px]
  bool why = false;                        // on the right: the set-up chosen, instead of all
  PlanChoice pages_of{};                   // of what has been made last
};

struct FillingPage;       // panels_filling.h
struct LoaderMapDrawer;   // panels_loader_map.h
struct SlopeLimitDrawer;  // panels_slope_limit.h
struct WeighingForm;      // render/screen/parts/weighing_form.h

// What a person chose to see; nothing of it belongs to the scene.
struct ViewChoices {
  Overlays overlays;
  bool follow = true;                                       // camera travels with the machine
  std::optional<CameraPreset> go_to = CameraPreset::scene;  // to be carried out by the window, then emptied
  int preset = 0;                                           // last one gone to
  bool notes = false;                                       // every caution and limit is being read
  bool answer_side = false;                                 // where one panel shows either, it is the answer
  bool presenter = false;                                   // the picture alone, without panels
  bool two_views = false;  // of two set-ups: side by side instead of one through the other
  double text_scale = 1;   // on top of the desktop's, 1 to most_text
  double most_text = 3;    // see most_text_scale
  Drawer drawer = Drawer::none;
  std::filesystem::path state_folder;    // of recent files and unsaved work; empty = none is kept
  std::filesystem::path pictures;        // where what is made goes; empty = the current folder
  std::filesystem::path looked_into;     // folder the file list shows; empty = where the scene came from
  char typed_path[1024] = {};            // file to open or save
  FileLists files;                       // what the file list shows, read now and then
  Units units = Units::si;               // what a person reads and types
  bool only_what_differs = true;         // of two set-ups' readings
  float side_by_side_head = 0;           // height of what stood above their rows last [px]
  FindChoices find;                      // a datum that is looked for by name
  std::string opened_reading;            // its "how was this found" is open; empty = none
  std::optional<LessonPlay> lesson;      // once somebody came to teach
  std::optional<MachineForm> machine;    // once it was opened
  ExportChoices making;                  // what is to leave the program
  std::optional<ExportRequest> to_make;  // for the window to begin, which then empties it
  std::string replaces;                  // file that pressing once more replaces
  bool cancel_making = false;            // likewise
  std::optional<Leaving> leaving;        // is being asked
  bool end = false;                      // for the window: close
  bool forget_work = false;              // for the window: what is not saved is not to be offered again
  std::string next_list;                 // of View and Show: to be opened once the other one has closed
  PlanChoices plan;
  std::shared_ptr<FillingPage> filling;  // once it was opened
  // Once each was opened; the first two work on threads of their own.
  std::shared_ptr<LoaderMapDrawer> loader_map;
  std::shared_ptr<SlopeLimitDrawer> slope_limit;
  std::shared_ptr<WeighingForm> weighing;
  Placing placing;  // ground and machine by hand, while that drawer is open
};

// Where things stand in a window of that size [px].
struct Layout {
  Rect top, left, right, banner, view, hand, bar, caution;  // `hand` has no height unless driving by hand
  bool shares = false;                                      // no room for `right`: the left one shows either
};
Layout layout_of(double width, double height, double scale, const Desk& desk, const ViewChoices& choices);

// Of letters and buttons in a window of that size [px], whose desktop scales by `desktop`, before a person makes them
// larger: type grows with the window, and in Present no letter is lower than a 45th of the window.
double type_scale(double width, double height, double desktop, const ViewChoices& choices);

// How much larger letters may become in a window of that size [px], where type_scale says `scale`: rows of buttons,
// band, bar and caution leave the picture room for its own buttons. 1 to 3.
double most_text_scale(double width, double height, double scale);

std::pair<Rect, Rect> halves(Rect rect);  // left and right, with a seam between
bool shows_two_views(const Desk& desk, const ViewChoices& choices);

// Builds one frame of all panels; edits reach the desk at once. Call between ImGui::NewFrame and ImGui::Render.
void draw_panels(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout);

// What a key does when pressed, by the letter it types; the buttons' tooltips say the same.
struct Command {
  char32_t letter;
  const char* name;  // of its button
  const char* help;
  void (*does)(Desk& desk, ViewChoices& choices);
};
const std::vector<Command>& commands();       // without those that open a drawer
const char* help_for(std::string_view name);  // of the command or drawer of that name, "" if there is none

// A drawer: the button and the key that open and close it, and what it draws over the picture while it is open.
struct DrawerEntry {
  Drawer drawer;
  const char* name;  // of its button along the top
  char32_t letter;
  const char* help;
  void (*draw)(Ui& ui, Desk& desk, ViewChoices& choices, const Layout& layout);
};
const std::vector<DrawerEntry>& drawers();  // in the order of their buttons
// What Ctrl with a letter types.
constexpr char32_t ctrl(char letter) { return static_cast<char32_t>(letter - 'a' + 1); }
// Opens a drawer, or closes it if it is open.
void pull(Drawer drawer, ViewChoices& choices);
// Once a turn: takes over what the drawers' own threads have found, and stops those of a drawer that is closed.
// `works`: something is still being worked out; `news`: something has come, or a result is there to be drawn.
struct DrawerWork {
  bool works = false, news = false;
};
DrawerWork attend_drawers(ViewChoices& choices);
// Another scene is on the desk: it is looked at as it asks.
inline void look_as_scene(ViewChoices& choices) {
  choices.preset = static_cast<int>(CameraPreset::scene);
  choices.go_to = CameraPreset::scene;
}
// Shows it in the desktop's file manager; how that went goes to `making.said`.
void open_folder(ViewChoices& choices, const std::filesystem::path& folder);
// Opens a file or takes up unsaved work, or ends the program; where that would take unsaved work off the desk, asks
// first (`leaving`). A lesson's scenes are nobody's work, and a machine file takes nothing away.
void want_to_open(Desk& desk, ViewChoices& choices, const std::filesystem::path& file);
void want_to_take_up(Desk& desk, ViewChoices& choices, const UnsavedWork& work);
void want_to_end(Desk& desk, ViewChoices& choices);
// The question, over everything: Save, Do not save, Stay. Items "Save and go on", "Do not save", "Stay", "Save as".
void draw_leaving(Ui& ui, Desk& desk, ViewChoices& choices, Rect window);
// The file a scene of this desk is saved in unless a person names another one.
std::filesystem::path usual_place(const Desk& desk);
// What is there already is replaced only when it is pressed a second time; the first time says so.
bool may_write(ViewChoices& choices, const std::string& whole);
// Carries out the command of a letter (either case). Returns false if no command has it.
bool carry_out(char32_t letter, Desk& desk, ViewChoices& choices);
// Hands the session the keys held down for driving by hand; none while something is being typed.
void hold_keys(const Ui& ui, Desk& desk);

bool two_shown(const Desk& desk);  // both set-ups are in the picture
// As of one session (verdict.h), of both with their letter before it where both are shown.
std::vector<std::string> cautions_of(const Desk& desk, Units units);
std::vector<std::string> further_cautions(const Desk& desk, Units units);

// What differs between the two set-ups, up to `most` data: "Rear tyres' liquid: A 75 %, B 0 %; rear track: A 1.80 m, B
// 2.00 m". Empty without a second one.
std::string what_differs(const Desk& desk, std::size_t most = 3, Units units = Units::si);

// A slider of the set-up panel on this scene (Slider in the field list).
struct Dial {
  std::string section, label;
  std::string key;        // of a field or alias
  double min, max, step;  // of the track, in the file's unit
  int digits = 0;
  std::string medium_key;  // of the liquid chosen in the same row; may be empty
  std::string choice_key;  // of anything else chosen there; may be empty
  bool more = false;       // under "More sliders" where there is little room
  std::string ends;        // what of this machine ends the track, at `limit` in the file's unit; may be empty
  double limit = 0;
};
std::vector<Dial> dials_of(const Scene& scene);

// Pieces, each in a file of its own.
int top_rows(double width);  // of buttons along the top, in a window so wide at scale 1 [px]
void draw_top(Ui& ui, Desk& desk, ViewChoices& choices, Rect rect);
// Angles and margins would give a lesson's answer away just now.
bool hides_numbers(const Desk& desk, const ViewChoices& choices);
// A lesson still asks: nothing runs before it is shown.
bool asks_first(const Desk& desk, const ViewChoices& choices);
void play_lesson(Desk& desk, ViewChoices& choices);  // does what the lesson wants of the window
void draw_files(Ui& ui, Desk& desk, ViewChoices& choices, Rect view);
// How the thing was found that the big number is about, and what it hangs on. The session must have its answer.
std::string verdict_found_words(const Session& session, Units units);
Known known_of(const Session& session);  // what its readings are made of; it must have a model
void draw_set_up(Ui& ui, Session& session, ViewChoices& choices);
void draw_answer(Ui& ui, Session& session, ViewChoices& choices);
void draw_which(Ui& ui, Desk& desk);  // of two set-ups, which is changed
void draw_compare(Ui& ui, Desk& desk, ViewChoices& choices);
void draw_bar(Ui& ui, Desk& desk, ViewChoices& choices);
void draw_view_tools(Ui& ui, const Desk& desk, ViewChoices& choices, Rect view);
// What an open lesson asks, in large figures at the foot of each picture while its run is shown. Items "Asked" of one
// machine, "Asked A" and "Asked B" of two.
void draw_asked(Ui& ui, const Desk& desk, const ViewChoices& choices, Rect view);
// The lesson whose run is shown; nullptr = none, or its question still waits for a guess.
const Lesson* lesson_shown(const Desk& desk, const ViewChoices& choices);
std::vector<Rect> view_tool_places(const Ui& ui);  // what was drawn on the picture last: words keep off it

}  // namespace sidehill::screen
