#include "wording/failing.hpp"

#include "base/failure.hpp"
#include "base/log.hpp"
#include "wording/say.hpp"

#include <exception>
#include <filesystem>
#include <new>

namespace platewright::wording {

std::string sentence_for_failure() {
    std::string said, detail;
    try {
        throw;
    } catch (const base::Failure& failure) {
        said = failure.what();
        detail = failure.detail();
        if (detail.empty())
            return said;
    } catch (const std::filesystem::filesystem_error& error) {
        said = say("“{}” could not be looked at, so nothing was changed. Check that it is there "
                   "and may be read.",
                   error.path1().string());
        detail = error.what();
    } catch (const std::bad_alloc& error) {
        said = say("There was not enough memory for this, and nothing was changed. Close other "
                   "programs and do it again.");
        detail = error.what();
    } catch (const std::exception& error) {
        said = say("Something went wrong that should not have; what was kept is safe. The log says "
                   "what: {}",
                   base::log_file().string());
        detail = error.what();
    }
    base::log(said, detail);
    return said;
}

} // namespace platewright::wording
