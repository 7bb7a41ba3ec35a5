// `sidehill card`: the card for the cab as PDF, or its numbers as JSON. What stands on it comes from
// render/page/cab_card. Ctrl-C stops it within a second and writes nothing.
#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <nlohmann/json.hpp>
#include <stop_token>
#include <string>
#include <thread>

#include "render/page/cab_card.h"
#include "render/text/motion/cab_card_report.h"
#include "render/text/words/line_breaks.h"
#include "render/verbs/outputs.h"
#include "render/verbs/terminal.h"
#include "render/verbs/verb.h"
#include "sim/base/errors.h"
#include "sim/insight/cab_card.h"
#include "sim/scene/scene_file.h"

namespace sidehill {
namespace {

struct CardCommand {
  SceneArguments in;
  std::string file;  // where the card goes, .pdf
  bool json = false;
  bool force = false;  // replace the file
  Units units = Units::si;
  PaperSize paper = PaperSize::a4;
};

std::atomic<bool> card_interrupted{false};
static_assert(std::atomic<bool>::is_always_lock_free);  // or the handler may not write it
void interrupt_card(int) { card_interrupted = true; }

// While it lives, Ctrl-C asks the work to stop, and a terminal on standard error sees how long it will take.
class CardWatch {
 public:
  CardWatch() {
    card_interrupted = false;
    struct sigaction ours = {};
    ours.sa_handler = interrupt_card;
    sigaction(SIGINT, &ours, &before_);
    watcher_ = std::jthread([this](const std::stop_token& over) { look(over); });
  }
  CardWatch(const CardWatch&) = delete;
  CardWatch& operator=(const CardWatch&) = delete;
  ~CardWatch() {
    watcher_.request_stop();
    watcher_.join();
    sigaction(SIGINT, &before_, nullptr);
  }
  CardProgress& progress() { return progress_; }
  std::stop_token stop() const { return stop_.get_token(); }

 private:
  void look(const std::stop_token& over) {
    const bool shows = isatty(STDERR_FILENO) != 0;
    const auto began = std::chrono::steady_clock::now();
    for (int turn = 1; !over.stop_requested(); ++turn) {
      std::this_thread::sleep_for(std::chrono::milliseconds(50));
      if (card_interrupted) stop_.request_stop();
      const int done = progress_.done, all = progress_.all;
      if (!shows || turn % 10 != 0 || done == 0) continue;
      const double so_far = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
      fmt::print(stderr, "\r{:3.0f} %, about {:.0f} s left ", 100.0 * done / all, so_far * (all - done) / done);
    }
    if (shows) fmt::print(stderr, "\r                            \r");
  }
  struct sigaction before_ = {};
  std::stop_source stop_;
  CardProgress progress_;
  std::jthread watcher_;
};

int card_verb(const CardCommand& options) {
  if (!options.file.ends_with(".pdf"))
    throw InputError("card: " + options.file + ": a card is written as PDF, give it a name in .pdf");
  const Scene scene = load_scene(options.in.scene, options.in.changes);
  check_output(options.file, options.force);
  CabCard card;
  bool stopped = false;
  {
    CardWatch watch;
    card = of_scene(options.in.scene, [&] { return cab_card(scene, &watch.progress(), watch.stop()); });
    stopped = watch.stop().stop_requested() || card_interrupted;
  }
  if (stopped) {
    fmt::print(stderr, "card: stopped, no file is written\n");
    return kInterrupted;
  }
  if (cells_with(card, CardAnswer::not_known) == 3 * card.rows.size()) {
    fmt::print(stderr, "{}: no balance was found, no card is written\n", options.in.scene);
    return kDiverged;
  }
  const Model model = build(scene);
  write_card(options.file, card, scene, model, options.units, options.paper);
  if (options.json) {
    print(card_json(card, scene, model));
    return kAnswered;
  }
  const CardWorst worst = card_worst(card, scene, options.units);
  fmt::print("{}", paragraph("", fmt::format("{}{}{}{}", worst.slope.empty() ? "" : worst.slope + ": ", worst.words,
                                             worst.rest.empty() ? "" : " ", worst.rest)));
  fmt::print("{}\n", options.file);
  return kAnswered;
}

}  // namespace

VerbAction prepare_card(CLI::App& sub) {
  const auto asked = std::make_shared<CardCommand>();
  take_scene(sub, asked->in);
  sub.add_option("file", asked->file, "where the card goes (.pdf)")->required();
  add_force_flag(sub, asked->force);
  take_json(sub, asked->json);
  take_units(sub, asked->units);
  take_paper(sub, asked->paper);
  return [asked] { return card_verb(*asked); };
}

}  // namespace sidehill
