"""Every page of the bench: one word finds address, view, template and test."""

from django.urls import include, path

from gudgeon.web.backups.views import backups
from gudgeon.web.bench.news import news, place
from gudgeon.web.bench.views import bench, bench_jobs, bench_reading
from gudgeon.web.book_in.views import book_in
from gudgeon.web.booked.views import as_booked
from gudgeon.web.customer.views import customer
from gudgeon.web.decide.views import approve, decide, decide_group
from gudgeon.web.devices.views import devices, devices_list, phones_switch, revoke
from gudgeon.web.gauges.views import gauge, gauge_new, gauge_retired, gauges, tester_new
from gudgeon.web.health.views import health
from gudgeon.web.job.views import close, facts, finding, job, not_possible, rules, scope
from gudgeon.web.leak.correct import leak_correct, leak_taken_back
from gudgeon.web.leak.views import leak, leak_result, leak_sheet
from gudgeon.web.measure.views import limit, measure, measure_part, reading, slips, zeroing
from gudgeon.web.pairing.views import pairing, pairing_code, unpair
from gudgeon.web.people.views import left, people, working
from gudgeon.web.photographs.views import photograph, photograph_add, photograph_file, photographs
from gudgeon.web.record.views import issue, issued, paper, paper_again, paper_progress, record, work_sheets
from gudgeon.web.sheets.views import newer, sheet, sheet_bring, sheet_edit, sheet_file, sheet_schema, sheets
from gudgeon.web.shop.views import device, hours, shop
from gudgeon.web.short_codes.views import short_code
from gudgeon.web.start.views import start
from gudgeon.web.transfer.views import bring_in, job_file, job_parcel

JOB = "jobs/<str:number>/"
RECORD = f"{JOB}record/<int:revision>/"

urlpatterns = [
    path("", start, name="start"),
    path("book-in/", book_in, name="book_in"),
    path("bring-in/", bring_in, name="bring_in"),
    path(JOB, job, name="job"),
    path(f"{JOB}facts/", facts, name="facts"),
    path(f"{JOB}scope/", scope, name="scope"),
    path(f"{JOB}not-possible/", not_possible, name="not_possible"),
    path(f"{JOB}finding/", finding, name="finding"),
    path(f"{JOB}rules/", rules, name="rules"),
    path(f"{JOB}close/", close, name="close"),
    path(f"{JOB}file/", job_file, name="job_file"),
    path(f"{JOB}parcel/", job_parcel, name="job_parcel"),
    path(f"{JOB}newer-sheet/", newer, name="newer_sheet"),
    path(f"{JOB}diagnosis/", include("gudgeon.web.diagnosis.urls")),
    path(f"{JOB}leak/", leak, name="leak"),
    path(f"{JOB}leak/<str:test>/", leak_result, name="leak_result"),
    path(f"{JOB}leak/<str:test>/sheet/", leak_sheet, name="leak_sheet"),
    path(f"{JOB}leak/<str:test>/correct/", leak_correct, name="leak_correct"),
    path(f"{JOB}leak/<str:test>/taken-back/", leak_taken_back, name="leak_taken_back"),
    path(f"{JOB}measure/", measure, name="measure"),
    path(f"{JOB}measure/<slug:component>/", measure_part, name="measure_part"),
    path("bench/", bench_jobs, name="bench_jobs"),
    path(f"{JOB}bench/", bench, name="bench"),
    path(f"{JOB}bench/reading/", bench_reading, name="bench_reading"),
    path(f"{JOB}news/", news, name="news"),
    path(f"{JOB}place/", place, name="place"),
    path(f"{JOB}reading/", reading, name="reading"),
    path(f"{JOB}limit/", limit, name="limit"),
    path(f"{JOB}zeroing/", zeroing, name="zeroing"),
    path(f"{JOB}slips/", slips, name="slips"),
    path(f"{JOB}decide/", decide, name="decide"),
    path(f"{JOB}decide/group/", decide_group, name="decide_group"),
    path(f"{JOB}decide/approve/", approve, name="approve"),
    path(f"{JOB}as-booked/", as_booked, name="as_booked"),
    path(f"{JOB}customer/", customer, name="customer"),
    path(f"{JOB}photographs/", photographs, name="photographs"),
    path(f"{JOB}photographs/add/", photograph_add, name="photograph_add"),
    path(f"{JOB}photographs/<slug:key>/", photograph, name="photograph"),
    path(f"{JOB}photographs/file/<slug:sha256>.jpg", photograph_file, name="photograph_file"),
    path(f"{JOB}work-sheets/", work_sheets, name="work_sheets"),
    path(f"{JOB}record/", record, name="record"),
    path(f"{JOB}record/issue/", issue, name="issue"),
    path(RECORD, issued, name="issued"),
    path(f"{RECORD}progress/", paper_progress, name="paper_progress"),
    path(f"{RECORD}again/", paper_again, name="paper_again"),
    path(f"{RECORD}paper/", paper, name="paper"),
    path("sheets/", sheets, name="sheets"),
    path("sheets/new/", sheet_edit, name="sheet_new"),
    path("sheets/bring/", sheet_bring, name="sheet_bring"),
    path("sheets/schema/", sheet_schema, name="sheet_schema"),
    path("sheets/<str:key>/", sheet, name="sheet"),
    path("sheets/<str:key>/edit/", sheet_edit, name="sheet_edit"),
    path("sheets/<str:key>/file/", sheet_file, name="sheet_file"),
    path("sheets/<str:key>/file/<int:revision>/", sheet_file, name="sheet_file_revision"),
    path("gauges/", gauges, name="gauges"),
    path("gauges/new/", gauge_new, name="gauge_new"),
    path("gauges/tester/", tester_new, name="tester_new"),
    path("gauges/<str:key>/", gauge, name="gauge"),
    path("gauges/<str:key>/retired/", gauge_retired, name="gauge_retired"),
    path("people/", people, name="people"),
    path("people/working/", working, name="working"),
    path("people/left/", left, name="left"),
    path("phones/", devices, name="devices"),
    path("phones/list/", devices_list, name="devices_list"),
    path("phones/switch/", phones_switch, name="phones_switch"),
    path("phones/code/", pairing_code, name="pairing_code"),
    path("phones/<str:mark>/revoke/", revoke, name="revoke"),
    path("pair/", pairing, name="pair"),
    path("pair/out/", unpair, name="unpair"),
    path("c/<str:code>/", short_code, name="short_code"),
    path("shop/", shop, name="shop"),
    path("shop/device/", device, name="device"),
    path("shop/hours/", hours, name="shop_hours"),
    path("sums/", include("gudgeon.web.sums.urls")),
    path("health/", health, name="health"),
    path("backups/", backups, name="backups"),
]
