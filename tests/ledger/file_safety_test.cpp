#include "base/failure.hpp"
#include "ledger/faults.hpp"
#include "ledger/files/file_safety.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

#include <cerrno>
#include <fstream>
#include <string_view>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

std::span<const std::byte> bytes_of(std::string_view text) {
    return std::as_bytes(std::span{text.data(), text.size()});
}

std::string text_of(const std::vector<std::byte>& bytes) {
    std::string text;
    for (const std::byte byte : bytes)
        text += static_cast<char>(byte);
    return text;
}

} // namespace

// NIST, FIPS 180-2 with change notice 1, appendix B: the examples for SHA-256; and the well-known
// digest of nothing.
TEST_CASE("content hashes are SHA-256 as the standard's examples have it") {
    CHECK(sha256_hex(bytes_of("abc")) ==
          "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_hex(bytes_of("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")) ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sha256_hex({}) == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST_CASE("a file is written whole, its staging left empty") {
    const TemporaryFolder folder;
    make_folder_durably(folder.path() / "a" / "b");
    make_folder_durably(folder.path() / "staging");
    const auto file = folder.path() / "a" / "b" / "file";
    write_durably(file, bytes_of("first"), folder.path() / "staging");
    CHECK(text_of(read_whole(file)) == "first");
    write_durably(file, bytes_of("second, and longer"), folder.path() / "staging");
    CHECK(text_of(read_whole(file)) == "second, and longer");
    CHECK(std::filesystem::is_empty(folder.path() / "staging"));
    write_durably(file, {}, folder.path() / "staging");
    CHECK(read_whole(file).empty());
}

TEST_CASE("a file that cannot be written leaves the earlier one as it was, and nothing behind") {
    const TemporaryFolder folder;
    make_folder_durably(folder.path() / "staging");
    const auto file = folder.path() / "gone" / "file";
    CHECK_THROWS_AS(write_durably(file, bytes_of("x"), folder.path() / "staging"), base::Failure);
    CHECK(std::filesystem::is_empty(folder.path() / "staging"));
    CHECK_THROWS_AS(write_durably(folder.path() / "file", bytes_of("x"), folder.path() / "no"),
                    base::Failure);
    CHECK_FALSE(std::filesystem::exists(folder.path() / "file"));
    CHECK_THROWS_AS(read_whole(folder.path() / "file"), base::Failure);
    std::ofstream{folder.path() / "plain"} << "file";
    CHECK_THROWS_AS(make_folder_durably(folder.path() / "plain" / "folder"), base::Failure);
}

TEST_CASE(
    "a folder that can't be made is told, and one that another program made meanwhile will do") {
    const TemporaryFolder folder;
    Faults::arm(0, ENOSPC, false);
    CHECK_THROWS_AS(make_folder_durably(folder.path() / "full"), base::Failure);
    Faults::arm(0, EEXIST, false);
    CHECK_NOTHROW(make_folder_durably(folder.path() / "theirs"));
    Faults::disarm();
}

TEST_CASE("a folder's lock is had by one at a time, and is free when its holder is gone") {
    const TemporaryFolder folder;
    {
        const FolderLock first{folder.path() / "lock"};
        CHECK(first.outcome() == FolderLock::Outcome::taken);
        CHECK(FolderLock{folder.path() / "lock"}.outcome() == FolderLock::Outcome::held_by_another);
    }
    CHECK(FolderLock{folder.path() / "lock"}.outcome() == FolderLock::Outcome::taken);
}
