// A bundle from anywhere. The first byte says whether the rest is the zip file itself, or the tree
// of an instrument in a zip file that is sound.
#include "base/failure.hpp"
#include "fuzz/harness.hpp"
#include "ledger/store.hpp"

using namespace platewright;

namespace {

constexpr const char* k_uid = "0123456789abcdef0123456789abcdef";

void write_sound_zip(const std::filesystem::path& file, std::string_view tree) {
    const std::string uid = k_uid;
    ledger::ZipWriter zip{file};
    zip.add_text("bundle.json", [&uid] {
        return R"({"format": "platewright.bundle/1", "tables": 1, "instruments": [")" + uid +
               R"("]})";
    });
    zip.add_text("instruments/" + uid + ".json", [tree] { return std::string{tree}; });
    zip.finish({});
}

} // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const test::TemporaryFolder folder{test::memory_folder()};
    static ledger::Store store{folder.path() / "ledger"};
    if (size == 0)
        return 0;
    const auto file = folder.path() / "bundle.zip";
    const std::span<const std::uint8_t> rest{data + 1, size - 1};
    if (data[0] % 2 == 0)
        fuzz::write_file(file, rest);
    else
        write_sound_zip(file, fuzz::as_text(rest));
    const auto report = store.take_bundle(file, {.only_look = true});
    fuzz::hold(report || !report.fault().what.empty());
    fuzz::hold(store.overview().empty()); // a look leaves nothing, whatever came of it
    return 0;
}
