#pragma once
#include "screen/view_context.hpp"

#include <filesystem>
#include <future>
#include <string>
#include <vector>

namespace platewright::screen {

/// Files to choose from: a folder's subfolders and those of its files that end as wanted. The
/// folder is read aside, since a disk may be slow.
class FolderList {
public:
    /// Endings in small letters, with their dot.
    FolderList(std::vector<std::string> endings, bool several)
        : endings_(std::move(endings)), several_(several) {}

    /// In the flow of a page, `height` px at 1280 × 800.
    void draw(const ViewContext& context, const char* id, double height);
    /// In the order they are listed.
    const std::vector<std::filesystem::path>& chosen() const { return chosen_; }
    void forget() { chosen_.clear(); }

private:
    struct Content {
        std::filesystem::path folder;
        std::vector<std::filesystem::path> folders, files;
        bool readable = true;
    };
    static Content read(const std::filesystem::path& folder,
                        const std::vector<std::string>& endings);
    void go_to(const std::filesystem::path& folder);
    void keep_content(const ViewContext& context);
    void choose(const std::filesystem::path& file);
    void rows(const ViewContext& context);

    std::vector<std::string> endings_;
    bool several_;
    std::string typed_; // the folder, as it stands in its field
    Content content_;
    std::future<Content> coming_;
    std::vector<std::filesystem::path> chosen_;
};

} // namespace platewright::screen
