"""Addresses of invoices, credit notes, payments and reports, and of the client's own account."""

from django.urls import path

from quoting.bill import csv_pages, job_pages, letter_pages, pages, payment_pages, public, schedule_pages

urlpatterns = [
    path("jobs/<int:job_id>/bills/", job_pages.job_bills, name="job-bills"),
    path("jobs/<int:job_id>/bills/payment/<int:row_id>/", job_pages.bill_milestone, name="bill-milestone"),
    path("jobs/<int:job_id>/bills/progress/", job_pages.bill_progress, name="bill-progress"),
    path("jobs/<int:job_id>/bills/final/", job_pages.bill_final, name="bill-final"),
    path("jobs/<int:job_id>/bills/release/", job_pages.release, name="retainage-release"),
    path("jobs/<int:job_id>/bills/statement/", job_pages.statement, name="job-statement"),
    path("jobs/<int:job_id>/bills/schedule/", schedule_pages.schedule, name="job-schedule"),
    path("jobs/<int:job_id>/bills/link/", job_pages.make_link, name="account-link-make"),
    path(
        "jobs/<int:job_id>/bills/link/<int:link_id>/withdraw/",
        job_pages.revoke_link,
        name="account-link-revoke",
    ),
    path("invoices/", pages.invoices, name="invoices"),
    path("invoices/<int:invoice_id>/", pages.invoice, name="invoice"),
    path("invoices/<int:invoice_id>/paper.pdf", pages.invoice_paper, name="invoice-paper"),
    path("invoices/<int:invoice_id>/invoice.xml", pages.invoice_xml, name="invoice-xml"),
    path("invoices/<int:invoice_id>/credit/", pages.credit, name="invoice-credit"),
    path("invoices/<int:invoice_id>/send/", pages.send, name="invoice-send"),
    path("invoices/<int:invoice_id>/remind/", pages.remind, name="invoice-remind"),
    path("credit-notes/<int:credit_id>/paper.pdf", pages.credit_paper, name="credit-paper"),
    path("credit-notes/<int:credit_id>/credit-note.xml", pages.credit_xml, name="credit-xml"),
    path("releases/<int:release_id>/paper.pdf", pages.release_paper, name="release-paper"),
    path("letters/<int:letter_id>/", letter_pages.letter, name="letter"),
    path("payments/", payment_pages.payments, name="payments"),
    path("payments/new/", payment_pages.payment_new, name="payment-new"),
    path("payments/<int:payment_id>/", payment_pages.payment, name="payment"),
    path("payments/<int:payment_id>/receipt.pdf", payment_pages.receipt, name="receipt-paper"),
    path("clients/<int:client_id>/account/", payment_pages.client_account, name="client-account"),
    path("clients/<int:client_id>/account/use-credit/", payment_pages.credit_use, name="credit-use"),
    path("receivables/", pages.receivables, name="receivables"),
    path("reports/sales-tax/", csv_pages.sales_tax, name="sales-tax"),
    path("reports/invoices.csv", csv_pages.invoices_csv, name="invoices-csv"),
    path("reports/credits.csv", csv_pages.credits_csv, name="credits-csv"),
    path("reports/payments.csv", csv_pages.payments_csv, name="payments-csv"),
    path("reports/taxes.csv", csv_pages.taxes_csv, name="taxes-csv"),
    path("account/<str:token>/", public.account, name="account-public"),
    path("account/<str:token>/invoices/<int:invoice_id>.pdf", public.invoice_paper, name="account-invoice"),
    path("account/<str:token>/credits/<int:credit_id>.pdf", public.credit_paper, name="account-credit"),
    path("account/<str:token>/releases/<int:release_id>.pdf", public.release_paper, name="account-release"),
]
