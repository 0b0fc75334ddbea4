#include "ledger/whole_folder.hpp"

#include "records/errors.hpp"

#include <fmt/format.h>

namespace tarewell::ledger {

using namespace records; // NOLINT

namespace fs = std::filesystem;

whole_folder::whole_folder(const std::string& path) : path_{fs::path{path}.lexically_normal()} {
    if (!path_.has_filename()) path_ = path_.parent_path();
    partial_ = path_.string() + ".partial";
    if (fs::exists(path_))
        throw input_error(path_.string() + " is there already; nothing was changed. Name a new folder");
    std::error_code failure;
    fs::remove_all(partial_, failure);
    if (!fs::create_directories(partial_, failure))
        throw io_error(fmt::format("{} could not be made: {}", partial_.string(), failure.message()));
}

whole_folder::~whole_folder() {
    std::error_code ignored;
    if (!in_place_) fs::remove_all(partial_, ignored);
}

void whole_folder::put_in_place() {
    std::error_code failure;
    fs::rename(partial_, path_, failure);
    if (failure) throw io_error(fmt::format("{} could not be put in place: {}", path_.string(), failure.message()));
    in_place_ = true;
}

} // namespace tarewell::ledger
