// Fontconfig, the OpenGL driver and ALSA's plugins keep memory until the program ends, from modules
// that are unloaded by then and can't be told by name: tests that use them run without the leak
// check, all others with it.
extern "C" const char* __asan_default_options();
extern "C" const char* __asan_default_options() { return "detect_leaks=0"; }
