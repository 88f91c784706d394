#include "main/window/open_demo.hpp"

#include "base/failure.hpp"
#include "main/run_self.hpp"
#include "main/window/demo_workshop.hpp"
#include "wording/say.hpp"

namespace platewright::cli {

std::string open_demo(bool walk) {
    if (!DemoWorkshop::open())
        return std::string(
            wording::say("The demo workshop's recordings are not beside this program: sh "
                         "third_party/setup demo in "
                         "the sources opens it."));
    const std::filesystem::path ledger = DemoWorkshop::usual_folder();
    std::error_code ignored;
    const bool made = std::filesystem::exists(ledger / "ledger.sqlite", ignored);
    try {
        start_self(walk ? std::vector<std::string>{"demo", "--walk"}
                        : std::vector<std::string>{"demo"});
    } catch (const base::Failure& failure) {
        return wording::say("The demo workshop could not be started: {}.", failure.detail());
    }
    return made
               ? wording::say("The demo workshop (invented) opens in a window of its own, from {}.",
                              ledger.string())
               : wording::say(
                     "The demo workshop (invented) is being entered into {}; its window opens "
                     "when it is done, in half "
                     "a minute.",
                     ledger.string());
}

} // namespace platewright::cli
