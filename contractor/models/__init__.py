"""The firm's rows."""

from contractor.models.doors import CustomerLink, Device, PasswordLetter
from contractor.models.firm import Firm
from contractor.models.lists import UploadedList
from contractor.models.people import (
    Absence,
    Certificate,
    CertificateKind,
    Crew,
    CrewMember,
    Grade,
    Licence,
    Person,
    Role,
)
from contractor.models.places import Authority, Customer, Merge, NotTheSame, Site, Utility
from contractor.models.records import FieldRecord

__all__ = [
    "Absence",
    "Authority",
    "Certificate",
    "CertificateKind",
    "Crew",
    "CrewMember",
    "Customer",
    "CustomerLink",
    "Device",
    "FieldRecord",
    "Firm",
    "Grade",
    "Licence",
    "Merge",
    "NotTheSame",
    "PasswordLetter",
    "Person",
    "Role",
    "Site",
    "UploadedList",
    "Utility",
]
