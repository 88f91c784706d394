#pragma once
#include "bench/errand.hpp"
#include "ledger/record.hpp"
#include "plot/chart.hpp"

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace platewright::screen {

/// What is printed.
struct PrintOrder {
    enum class What {
        plate,      ///< the bench sheet
        instrument, ///< its record of making: all its plates
        page,       ///< the instrument's making as one page for a browser, its taps to be heard
        wood,       ///< the sheet of a wood in stock
    };
    What what = What::plate;
    ledger::Id id = 0;
    ledger::Id reference = 0; ///< a session set beside it, as on the screen; 0: none
    bool figures = false;     ///< a plate's charts too, each in a file of its own
    bool letter = false;      ///< US letter; else A4
    std::filesystem::path folder;
};

/// What goes into a bundle.
struct BundleOrder {
    ledger::Id plate = 0, instrument = 0; ///< both 0: the whole ledger
    std::string name;                     ///< of the file, without its ending
    std::filesystem::path folder;
};

/// Recordings that become a session of a plate.
struct EnterOrder {
    ledger::Id plate = 0;
    std::vector<std::filesystem::path> files;
    std::optional<base::Timestamp> begun; ///< nothing: the moment of the first file
    modes::Stage stage = modes::Stage::graduating;
    std::optional<double> mass_g;
};

/// Whether the window leads through a first walk when it opens: not; it is offered; at once. Only
/// where there are recorded strikes to walk with.
enum class FirstWalk { none, offered, begun };

/// What the program does for the window that the window can't do itself, since it sees neither
/// paper nor files. Errands are run by the bench. Anything may be empty: it is then not offered.
struct Outside {
    /// Keeps a chart in files and gives a sentence on what became of it. The name is without an
    /// ending.
    std::function<std::string(const plot::Chart&, const std::string& name)> keep_picture;
    /// Opens the invented demo workshop beside the maker's own ledger, on wish at the beginning of
    /// a first walk, and gives a sentence on where.
    std::function<std::string(bool walk)> open_demo;

    std::function<bench::Errand(const PrintOrder&)> print;
    std::function<bench::Errand(const BundleOrder&)> take_out;
    /// A bundle's content is looked at, or taken in; `prefer_bundle`: its word counts where the two
    /// differ.
    std::function<bench::Errand(const std::filesystem::path&, bool only_look, bool prefer_bundle)>
        take_in;
    std::function<bench::Errand(const EnterOrder&)> enter;
    /// Where what is written goes unless the maker says otherwise.
    std::function<std::filesystem::path()> folder;
    /// Shows a file with the desktop's own program for it; gives a sentence where that fails, else
    /// an empty one.
    std::function<std::string(const std::filesystem::path&)> show_file;
};

} // namespace platewright::screen
