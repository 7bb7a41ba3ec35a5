// That the checks of the source tree (plain_words.cmake, layering.cmake) find what they are there to find.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "tests/kit/folder.h"
#include "tests/kit/has.h"
#include "tests/kit/program.h"

using namespace sidehill;

namespace {

// A small tree without a sin, large enough to be taken for the project.
struct SourceTree {
  Folder folder;
  SourceTree() {
    for (int i = 0; i < 25; ++i) write("sim/part" + std::to_string(i) + ".h", "#pragma once\n// An environment.\n");
  }
  void write(const std::string& name, const std::string& text) const {
    const std::filesystem::path file = folder.path / name;
    std::filesystem::create_directories(file.parent_path());
    std::ofstream(file) << text;
  }
  Said checked(const std::string& script) const {
    return shell("'" SIDEHILL_CMAKE "' -DROOT='" + folder.path.string() + "' -P '" SIDEHILL_SOURCE_DIR "/tests/" +
                 script + "' 2>&1");
  }
};

}  // namespace

TEST_CASE("each word that is not plain is found, wherever it stands, and whole words only") {
  const SourceTree tree;
  CHECK(tree.checked("plain_words.cmake").code == 0);
  tree.write("README.md",
             "We recommend to amend the environment: a trend, as stolde. front_ir"
             "on_kg = 3\n");
  CHECK(tree.checked("plain_words.cmake").code == 0);
  // Put together here, so that this file is free of them.
  for (const std::string& word : {std::string("ir") + "on", std::string("mean") + "while", std::string("to") + "ld",
                                  std::string("rec") + "koned", std::string("men") + "ds"}) {
    CAPTURE(word);
    for (const std::string& text : {"A line.\nsays " + word + ", so", "A line.\n" + word,
                                    "A line.\n[x; \"" + word + "\"]", "A line.\nnot_" + word + "_kg\n"}) {
      CAPTURE(text);
      for (const char* name : {"README.md", "DEVELOPERS.md", "scenes/lessons/a.toml", "render/text/a.cpp", "sim/a.h"}) {
        tree.write(name, text);
        const Said said = tree.checked("plain_words.cmake");
        CHECK(said.code != 0);
        CHECK_MESSAGE(has(said.out, std::string(name) + ":2: \"" + word + "\""), said.out);
        tree.write(name, "");
      }
    }
  }
  CHECK(tree.checked("plain_words.cmake").code == 0);
  std::string capital = std::string("Rec") + "kon with it.";
  tree.write("README.md", capital);
  CHECK(tree.checked("plain_words.cmake").code != 0);
}

TEST_CASE("an include that runs upward is found") {
  const SourceTree tree;
  CHECK(tree.checked("layering.cmake").code == 0);
  tree.write("sim/a.cpp", "#include \"render/text/words/words.h\"\n");
  const Said said = tree.checked("layering.cmake");
  CHECK(said.code != 0);
  CHECK_MESSAGE(has(said.out, "sim knows nobody who shows it"), said.out);
}
