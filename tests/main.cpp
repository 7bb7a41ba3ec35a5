#define DOCTEST_CONFIG_IMPLEMENT_WITH_MAIN
#include <doctest/doctest.h>

#ifdef __SANITIZE_ADDRESS__
// The leak check names what a library kept by where the library is loaded. Graphics drivers are unloaded before it
// looks, and could then not be told from our own code (tests/data/leaks_of_drivers.supp); so nothing is unloaded.
extern "C" int dlclose(void*) { return 0; }
#endif
