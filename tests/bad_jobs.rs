//! Wrong jobs: each file of `bad_jobs/` is refused with the message stored beside it. Read
//! them, as the person would who wrote the job.

mod common;

#[test]
fn every_wrong_job_is_refused_with_its_message() {
    common::refuses_each("bad_jobs", 80, |path| {
        let name = path.file_name().and_then(|n| n.to_str()).expect("a name");
        common::restbite_in(path.parent().expect("a folder"), &["plan", name], "")
    });
}
