"""What people type about clients and sites, read into plain values for the services."""

from django import forms


class ClientForm(forms.Form):
    """A client's details."""

    name = forms.CharField(
        max_length=120,
        error_messages={"required": "Write the client's name, as it should stand on the quote."},
    )
    email = forms.EmailField(
        label="E-mail",
        required=False,
        error_messages={"invalid": "Write an e-mail address like name@example.com, or leave it empty."},
    )
    phone = forms.CharField(max_length=40, required=False)
    address = forms.CharField(
        label="Postal address", max_length=400, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )


class SiteForm(forms.Form):
    """What decides the work at a site."""

    address = forms.CharField(
        label="Site address",
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 3}),
        error_messages={"required": "Write the address of the house where the work is."},
    )
    year_built = forms.IntegerField(
        label="Year built",
        required=False,
        help_text="Before 1978: lead-safe work. Leave it empty when it is not known; unknown counts as old.",
        error_messages={"invalid": "Write the year with four digits, like 1962, or leave it empty."},
    )
    storeys_to_carry = forms.IntegerField(
        label="Flights of stairs",
        initial=0,
        help_text="Between the bathroom and the street.",
        error_messages={
            "required": "Write the number of flights of stairs; 0 when there are none.",
            "invalid": "Flights of stairs must be a whole number, like 2.",
        },
    )
    is_occupied = forms.BooleanField(label="Lived in during the work", required=False, initial=True)
    notes = forms.CharField(max_length=2000, required=False, widget=forms.Textarea(attrs={"rows": 4}))


class SearchForm(forms.Form):
    """The search above the list, and where its page starts."""

    search = forms.CharField(
        label="Search", max_length=120, required=False, help_text="Name, e-mail, phone or site address"
    )
    after = forms.IntegerField(required=False, widget=forms.HiddenInput)
