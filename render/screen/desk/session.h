// What the viewer knows: the scene being edited, its answer, and the run being shown. The window and the panels only
// show this and call it. Knows no OpenGL, no ImGui, no clock: time is handed in.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "render/namespaces.h"
#include "render/screen/desk/answer_at_rest.h"
#include "render/screen/desk/edited_scene.h"
#include "render/screen/desk/playback.h"

namespace sidehill::screen {

// What the picture shows.
enum class Showing {
  rest,    // the resting pose of the set-up as it is now
  placed,  // it cannot rest here: set down square, nothing carried
  run,     // a moment of a run
};

class Session {
 public:
  static constexpr int kHeadings = AnswerAtRest::kHeadings;  // points of the margin by heading
  static constexpr auto& kRates = Playback::kRates;

  explicit Session(Scene scene);

  // --- the scene -----------------------------------------------------------------------------------------------------
  const Scene& scene() const { return edit_.scene(); }
  const Scene& loaded() const { return edit_.loaded(); }  // as it was opened
  bool edited() const { return edit_.edited(); }          // differs from what was opened
  unsigned edits() const { return edit_.edits(); }        // counts up with every change of the scene
  // By key, as EditedScene has them.
  double number(std::string_view key) const { return edit_.number(key); }
  double loaded_number(std::string_view key) const { return edit_.loaded_number(key); }
  int choice(std::string_view key) const { return edit_.choice(key); }
  bool flag(std::string_view key) const { return edit_.flag(key); }
  void set_number(std::string_view key, double value);  // clamped to the field's range
  void set_choice(std::string_view key, int index) { edit(edit_.with_choice(key, index)); }
  void set_flag(std::string_view key, bool on) { edit(edit_.with_flag(key, on)); }
  void restore();                              // back to what was opened
  void edit(Scene scene);                      // any other change, as one
  void mark_edited() { edit_.mark_edited(); }  // what was opened is not saved anywhere
  void open(Scene scene);                      // another scene; what was opened before is forgotten
  void take_back(Scene scene, Scene loaded);   // as they were once
  void show(Recording recording);              // a run kept in a file, with its scene. Throws InputError for a bad one

  // --- its answer ----------------------------------------------------------------------------------------------------
  // Sets out to answer the scene if it has changed since, and takes over what has come out. On even ground it waits up
  // to `patience` [s] for the answer at this heading, which is enough; over features it waits for nothing, and the
  // answer comes later. Returns true if anything new came out. Never throws for an impossible machine: see refusal().
  bool answer(double patience);
  void settle();         // waits for everything but the doubts
  void settle_doubts();  // waits for everything
  // As AnswerAtRest has them.
  bool working() const { return rest_.working(); }
  bool headings_complete() const { return rest_.headings_complete(); }
  bool answer_is_of_scene() const { return rest_.is_of_scene(); }
  bool headings_are_of_scene() const { return rest_.headings_are_of_scene(); }
  bool answer_complete() const { return rest_.complete(); }
  const std::string& refusal() const { return rest_.refusal(); }  // why this machine cannot exist; empty = it can
  const Model* model() const { return rest_.model(); }  // of the last possible machine; nullptr before the first
  const StaticSolution& statics() const { return rest_.statics(); }
  const StandVerdict& verdict() const { return rest_.verdict(); }
  const LoadCheck* loads() const { return rest_.loads(); }
  // From -180 deg, equally spaced. Never of two scenes at once: on even ground the previous answer's until all are
  // known anew, over features `failed` where not reached yet.
  const std::vector<EnvelopePoint>& by_heading() const { return rest_.by_heading(); }
  // What a person must know first: overloads, bends that lift a wheel, ice. On even ground of the answer before for
  // the moment until they are known anew.
  const std::vector<std::string>& warnings() const { return rest_.warnings(); }
  // Of the scene as it is; nullptr while they are worked out: load limits, rules, bends, causes; how far off it may be.
  const Further* further() const { return rest_.further(); }
  const Breakdown* breakdown() const {
    return further() && further()->breakdown ? &*further()->breakdown : nullptr;  // also where there is none
  }
  const Uncertainty* doubts() const { return rest_.doubts(); }
  const EnvelopePoint* worst_heading() const { return rest_.worst_heading(); }
  // How far off the angles of the worst heading may be, and of the one that slides sooner; nullptr = not known (yet).
  const TurnedDoubt* worst_doubt() const { return rest_.worst_doubt(); }
  const TurnedDoubt* weakest_doubt() const { return rest_.weakest_doubt(); }
  // As it is compared with another (sim/insight/set_ups.h); nullptr while it is worked out. Its answers of all headings
  // are there once `turned_is_known`, its intervals once `doubts` are.
  const SetUpAnswer* set_up() const { return rest_.set_up(); }
  bool turned_is_known() const { return rest_.turned_is_known(); }

  // --- the run -------------------------------------------------------------------------------------------------------
  void play();  // starts the run, at rest unless the scene lets it fall; or goes on
  void pause();
  void toggle() { playing() ? pause() : play(); }
  void reset();      // back to the resting pose
  void step_once();  // one step of the simulation, or the next stored moment when looking back; then paused
  void drop();       // lets it fall from the scene's height (kDropHeight if that is 0) and stand: speed 0
  void drive();      // starts as play() does, then drives off at the scene's speed (kDriveSpeed if that is 0)
  bool restarts() const { return restart_in_ > 0; }    // an edit has stopped it, and it will start anew in a moment
  void restart_soon();                                 // as an edit does it
  void set_rate(double rate) { run_.set_rate(rate); }  // simulated seconds per second
  double rate() const { return run_.rate(); }
  bool playing() const { return run_.playing(); }
  bool started() const { return run_.started(); }
  bool finished() const { return run_.finished(); }  // nothing more will come of it
  // `wall` seconds have passed on the wall: steps the run by as much simulated time, times the rate, but for no longer
  // than `budget` seconds of computing. What could not be done is dropped: a slow machine shows slow motion, the time
  // step never changes. Returns true if the picture changed.
  bool advance(double wall, double budget);
  double keeping_up() const { return run_.keeping_up(); }          // below 0.95 the computer cannot keep up
  const std::string& run_refusal() const { return run_refusal_; }  // why it cannot be set in motion; empty = it can
  Scene scene_of_run() const;  // the scene, with the height the Drop button gives where it has none of its own
  const Recording* recording() const { return run_.recording(); }
  const std::vector<std::optional<double>>& margins() const { return run_.margins(); }  // see Playback

  // --- looking back --------------------------------------------------------------------------------------------------
  double length() const { return run_.length(); }        // recorded so far [s]; 0 without a run
  double looked_at() const { return run_.looked_at(); }  // time of the moment shown [s]
  bool looks_back() const { return run_.looks_back(); }  // at an earlier moment than the newest
  // Shows the moment at that time, between stored ones too; within what is recorded.
  void look_at(double time) { run_.look_at(time); }
  // Shows the stored moment nearest to it [s]; from there play goes on. Nothing without a run.
  void seek(double time) { run_.seek(time); }
  void step_back();                              // the stored moment before, then paused
  void newest() { run_.newest(); }               // back to the newest moment
  void set_loop(bool on) { run_.set_loop(on); }  // over and over what lies around the first lift-off
  bool loops() const { return run_.loops(); }
  // What is looped [s]: empty while there is nothing to loop. Without a lift-off, all there is once the run has ended.
  std::optional<std::pair<double, double>> loop_span() const { return run_.loop_span(); }
  // Loops over that instead, as two set-ups share one stretch; empty = its own again.
  void loop_over(std::optional<std::pair<double, double>> span) { run_.loop_over(span); }

  // --- driving by hand -----------------------------------------------------------------------------------------------
  void take_over();  // from now on by hand, as fast as it goes just then; starts the run where there is none
  void let_go() { run_.let_go(); }  // it comes to a stop and stands, the run goes on
  bool by_hand() const { return run_.by_hand(); }
  bool driven_by_hand() const { return run_.driven_by_hand(); }   // now or before
  const ByHand& hand() const { return run_.hand(); }              // what is asked of it
  void drive(const ByHand& hand) { run_.drive(hand); }            // asks that of it; nothing happens unless by_hand()
  void change_speed(int steps) { run_.change_speed(steps); }      // of 1 km/h, negative slower; backwards below 0
  void hold_keys(const HandKeys& keys) { run_.hold_keys(keys); }  // those held now
  const HandKeys& keys() const { return run_.keys(); }

  // --- what is to be shown -------------------------------------------------------------------------------------------
  Showing showing() const;
  const State& shown() const { return started() ? run_.shown() : rest_.still(); }  // valid whenever model() is not null
  unsigned version() const { return version_ + run_.version(); }  // counts up whenever the picture has changed

  bool too_fast() const { return run_.too_fast(); }  // it has stopped for that
  static constexpr double kDriveSpeed = 1.5;         // [m/s], about 5 km/h: a careful walk through rough ground
  static constexpr double kDropHeight = 0.1;         // [m], a hand's breadth

 private:
  bool take(const AnswerAtRest::Came& came);
  void changed();
  void begin();
  void start_run();
  void drop_run();
  void set_speed(double speed);

  EditedScene edit_;
  AnswerAtRest rest_;
  Playback run_;
  std::string run_refusal_;
  double restart_in_ = 0;  // wall time until an edited run starts anew [s]; 0 = not waiting
  bool falls_ = false;     // this run was asked for by drop()
  unsigned version_ = 1;
};

}  // namespace sidehill::screen
