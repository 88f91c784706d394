#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace platewright::cli {

/// This program's own file. Throws base::Failure where the system does not tell it.
std::filesystem::path own_program();

/// Runs this program with these words and waits; what it prints is dropped, what it complains about
/// is not. Gives its exit code, 1 where it was ended by a signal. Fails: base::Failure.
int run_self(const std::vector<std::string>& words);
/// The same with what it prints.
int run_self_aloud(const std::vector<std::string>& words);

/// The same, but does not wait: it goes on when this program has ended. Fails: base::Failure.
void start_self(const std::vector<std::string>& words);
/// The same of another program, by its name and what it is given.
void start_program(const std::vector<std::string>& words);

} // namespace platewright::cli
