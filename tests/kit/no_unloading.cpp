// In a checked build nothing is unloaded: the leak check names what a library kept by where the library is loaded, and
// looks only after graphics drivers would be gone, which could then not be distinguished from our own code
// (tests/data/leaks_of_drivers.supp). Linked into the tests and into the program they run; in no other build.
extern "C" int dlclose(void*) { return 0; }
