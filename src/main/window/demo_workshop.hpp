#pragma once
#include "base/result.hpp"
#include "bench/sound/recorded_strikes.hpp"

#include <filesystem>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>

namespace platewright::cli {

/// What becomes of the newest session's taps when the demo workshop is entered.
enum class Newest {
    entered, ///< like all others
    begun,   ///< the session is begun, its taps are still to come
    left_out ///< not even begun
};

/// The invented demo workshop that comes with the program: recordings, caliper readings, wood. It
/// lies beside an installed program (share/platewright/sample-audio), or in the sources that the
/// program was built in.
/// Threads: one. Cost: entering takes half a minute, in other processes.
class DemoWorkshop {
public:
    /// Fault: it is not beside this program, or its lists can't be read.
    static base::Result<DemoWorkshop> open();

    /// The recording that goes on at the bench while the rest is there already.
    std::filesystem::path newest() const;
    /// Its strikes, to be given one by one.
    bench::RecordedStrikes strikes() const;
    /// The plate that it is of, and the one set beside it.
    static constexpr const char* k_plate = "Wren back";
    static constexpr const char* k_reference = "Heron back";

    /// Enters all of it into the ledger `folder`, through the program's own commands, and marks the
    /// ledger as the demo's; `told` gets a line for each recording. The folder is there whole at
    /// the end, or not at all; it must not be there before.
    /// Fails: base::Failure.
    void fill(const std::filesystem::path& folder, Newest newest,
              const std::function<void(const std::string&)>& told) const;
    /// The newest session, into a ledger that was filled without it.
    void enter_newest(const std::filesystem::path& folder) const;

    /// Where it lies unless told otherwise: "Platewright demo (invented)" at home.
    static std::filesystem::path usual_folder();
    /// Whether the ledger in this folder was filled by `fill`. Fails: base::Failure.
    static bool is_demo(const std::filesystem::path& folder);

private:
    DemoWorkshop(std::filesystem::path folder, nlohmann::json recordings, nlohmann::json wood)
        : folder_(std::move(folder)), recordings_(std::move(recordings)), wood_(std::move(wood)) {}
    void enter(const nlohmann::json& recording, const std::filesystem::path& ledger,
               bool with_sound) const;

    std::filesystem::path folder_; ///< of the recordings
    nlohmann::json recordings_, wood_;
};

} // namespace platewright::cli
