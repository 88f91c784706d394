#pragma once
#include "screen/fields.hpp"
#include "screen/folder_list.hpp"
#include "screen/sight.hpp"
#include "screen/typed.hpp"

#include <string>
#include <utility>

namespace platewright::screen {

/// What leaves the ledger and comes into it: paper, bundles, recordings, copies of the database,
/// the bin.
class FilesView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    enum class Sheet { paper, recordings, bundles, copies, bin };

    void keep_listed(const Sight& sight);
    void choices(const Sight& sight);
    void paper(const Sight& sight);
    void woods(const Sight& sight);
    void folder_fields(const Sight& sight);
    std::filesystem::path folder(const Sight& sight) const;
    void recordings(const Sight& sight);
    void enter(const Sight& sight);
    void bundles(const Sight& sight);
    void take_out(const Sight& sight);
    void take_in(const Sight& sight);
    void copies(const Sight& sight);
    void bin(const Sight& sight);
    void errand(const Sight& sight);

    Sheet sheet_ = Sheet::paper;
    std::pair<const void*, const void*>
        listed_; // what of the ledger copies and bin were listed for
    bool asked_stock_ = false;
    bool figures_ = false, prefer_bundle_ = false;
    std::string folder_typed_;
    std::filesystem::path looked_at_; // a bundle whose content has been looked at
    std::string copy_;                // asked to be put back: once more, to be sure
    std::size_t stage_ = 1;
    std::string date_;
    TypedFigure mass_;
    Complaint complaint_;
    std::string told_;
    FolderList sounds_{
        {".wav", ".flac", ".aiff", ".aif", ".ogg", ".oga", ".caf", ".w64", ".rf64", ".au"}, true};
    FolderList bundles_{{".platewright", ".zip"}, false};
};

} // namespace platewright::screen
