# The same record by reportlab (BSD), pikepdf (MPL 2.0) and pyHanko (MIT), as one would write it with them: what stands on
# our pages set in paragraphs and tables with the same fonts, each tagged, the order picture, the code with the digest,
# the marks of the archive, the data attached, a second field, and a certifying signature of the same form with the list of revoked
# certificates. Fonts and keys are ready before the clock starts.
import datetime
import hashlib
import io
import json
import sys
import time

from asn1crypto import crl as asn1_crl, keys, x509 as asn1_x509
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
import pikepdf
from pyhanko.pdf_utils import embed
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign import fields, signers
from pyhanko_certvalidator import ValidationContext
from pyhanko_certvalidator.registry import SimpleCertificateStore
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing, Line, String
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table

question = json.load(sys.stdin)
PROFILE = open(question["profile"], "rb").read()
pdfmetrics.registerFont(TTFont("text", question["regular"]))
pdfmetrics.registerFont(TTFont("strong", question["bold"]))
BODY = ParagraphStyle("body", fontName="text", fontSize=9.25, leading=12.5)
STRONG = ParagraphStyle("strong", parent=BODY, fontName="strong")
HEADING = ParagraphStyle("heading", parent=STRONG, fontSize=11.5, leading=15, spaceBefore=14, spaceAfter=5)
TITLE = ParagraphStyle("title", parent=STRONG, fontSize=16, leading=20)
SMALL = ParagraphStyle("small", parent=BODY, fontSize=7.75, leading=10.5)

now = datetime.datetime.now(datetime.timezone.utc)
yesterday, later = now - datetime.timedelta(days=1), now + datetime.timedelta(days=9)


def named(name):
    return x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, name)])


def certified(key, name, by, by_name, authority):
    usage = x509.KeyUsage(not authority, not authority, False, False, False, authority, authority, False, False)
    return (
        x509.CertificateBuilder()
        .subject_name(named(name))
        .issuer_name(named(by_name))
        .public_key(key.public_key())
        .serial_number(1 + authority)
        .not_valid_before(yesterday)
        .not_valid_after(later)
        .add_extension(usage, True)
        .add_extension(x509.BasicConstraints(authority, None), True)
        .sign(by, hashes.SHA256())
    )


def as_asn1(certificate):
    return asn1_x509.Certificate.load(certificate.public_bytes(serialization.Encoding.DER))


facility, key = ec.generate_private_key(ec.SECP256R1()), ec.generate_private_key(ec.SECP256R1())
authority = certified(facility, "authority", facility, "authority", True)
certificate = certified(key, "observer", facility, "authority", False)
revoked = (
    x509.CertificateRevocationListBuilder()
    .issuer_name(named("authority"))
    .last_update(yesterday)
    .next_update(later)
    .sign(facility, hashes.SHA256())
)
pkcs8 = key.private_bytes(
    serialization.Encoding.DER, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
)
registry = SimpleCertificateStore()
registry.register(as_asn1(authority))
signer = signers.SimpleSigner(
    signing_cert=as_asn1(certificate), signing_key=keys.PrivateKeyInfo.load(pkcs8), cert_registry=registry
)
trust = ValidationContext(
    trust_roots=[as_asn1(authority)],
    crls=[asn1_crl.CertificateList.load(revoked.public_bytes(serialization.Encoding.DER))],
    allow_fetching=False,
)


class Tagged(Paragraph):
    """A paragraph that the structure tree can point at."""

    def draw(self):
        page = self.canv.getPageNumber() - 1
        number = sum(1 for other in marks if other[0] == page)
        marks.append((page, number))
        self.canv._code.append(f"/P << /MCID {number} >> BDC")
        super().draw()
        self.canv._code.append("EMC")


marks = []


def two_columns(rows, left):
    return Table([[Tagged(one, STRONG), Tagged(other, BODY)] for one, other in rows], colWidths=[left, 499 - left])


def order_picture(record):
    seen = record["log"]["observations"]
    steps = record["procedure"]["steps"]
    picture = Drawing(499, 14 * max(len(seen), len(steps)))
    for place, step in enumerate(steps):
        picture.add(String(0, picture.height - 12 - 14 * place, step["acts"][0], fontName="text", fontSize=9.25))
    for place, one in enumerate(seen):
        y = picture.height - 12 - 14 * place
        picture.add(String(300, y, str(one.get("act")), fontName="text", fontSize=9.25))
        for other, step in enumerate(steps):
            if one.get("act") in step["acts"]:
                picture.add(Line(150, picture.height - 9 - 14 * other, 295, y + 3))
    return picture


def drawn(record, data, number):
    procedure, report = record["procedure"], record["report"]
    flow = [
        Tagged("Competency record", TITLE),
        Tagged(f"{report['outcome']}, number {number}", TITLE),
        Tagged(f"{report['steps_well']} of {report['steps_counted']} steps as they should be", BODY),
        two_columns(
            [(role, f"{record[role]['name']}, {record[role]['role']}") for role in ("person", "observer")]
            + [(what, str(record[what])) for what in ("on", "begun", "ended", "zone", "mode", "purpose")],
            75,
        ),
        Tagged("Findings", HEADING),
        *[Tagged(finding["text"], BODY) for finding in report["findings"]],
        Tagged("Step by step", HEADING),
        Table(
            [[Tagged(head, STRONG) for head in ("Step", "Time", "How it stands", "Credit")]]
            + [
                [Tagged(text, BODY) for text in (step["text"], str(state["observation"]), state["state"], str(state["credit"]))]
                for step, state in zip(procedure["steps"], report["steps"])
            ],
            colWidths=[290, 60, 90, 59],
            repeatRows=1,
        ),
        Tagged("Order expected and order observed", HEADING),
        order_picture(record),
        Tagged("How the outcome was reached", HEADING),
        Tagged(question["rules"], BODY),
        Tagged("Cautions", HEADING),
        *[Tagged(caution, BODY) for caution in record["cautions"]],
        Tagged("Sources of the procedure", HEADING),
        *[
            Tagged(", ".join(str(source.get(part)) for part in ("title", "publisher", "year", "locator", "footing")), BODY)
            for source in procedure["sources"]
        ],
        Tagged("Signatures", HEADING),
        Tagged(question["rules"], BODY),
        Tagged("Identity of this record", HEADING),
        two_columns(
            [("Data", hashlib.sha256(data).hexdigest()), ("Procedure", record["procedure_hash"]), ("Chain", str(record["place"]))],
            75,
        ),
        Spacer(1, 8),
    ]
    code = Drawing(80, 80)
    code.add(QrCodeWidget(hashlib.sha256(data).hexdigest(), barWidth=80, barHeight=80))
    flow.append(code)
    pdf = io.BytesIO()
    marks.clear()

    def foot(canvas, document):
        canvas.setFont("text", 7.75)
        canvas.drawString(48, 30, f"{record['person']['name']} · {procedure['title']} · {document.page}")

    SimpleDocTemplate(pdf, pagesize=(595.28, 841.89), margin=48, title="Competency record").build(
        flow, onFirstPage=foot, onLaterPages=foot
    )
    pdf.seek(0)
    return pdf


def archived(pdf, when):
    """What PDF/A asks for beside the page, as pikepdf writes it."""
    document = pikepdf.open(pdf)
    with document.open_metadata() as about:
        about["pdfaid:part"], about["pdfaid:conformance"] = "3", "B"
        about["dc:title"], about["dc:language"] = "Competency record", {"en"}
        about["xmp:CreateDate"] = about["xmp:ModifyDate"] = when
    profile = document.make_stream(PROFILE, N=3)
    intent = pikepdf.Dictionary(
        Type=pikepdf.Name.OutputIntent,
        S=pikepdf.Name.GTS_PDFA1,
        OutputConditionIdentifier="sRGB",
        Info="sRGB IEC61966-2.1",
        DestOutputProfile=profile,
    )
    document.Root.OutputIntents = pikepdf.Array([intent])
    tree = document.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.StructTreeRoot))
    whole = document.make_indirect(
        pikepdf.Dictionary(Type=pikepdf.Name.StructElem, S=pikepdf.Name.Document, P=tree)
    )
    owners = [[] for _ in document.pages]
    for page, number in marks:
        piece = pikepdf.Dictionary(Type=pikepdf.Name.MCR, Pg=document.pages[page].obj, MCID=number)
        element = pikepdf.Dictionary(Type=pikepdf.Name.StructElem, S=pikepdf.Name.P, P=whole, K=piece)
        owners[page].append(document.make_indirect(element))
    whole.K = pikepdf.Array([element for page in owners for element in page])
    tree.K = whole
    numbers = [part for page, elements in enumerate(owners) for part in (page, pikepdf.Array(elements))]
    tree.ParentTree = document.make_indirect(pikepdf.Dictionary(Nums=pikepdf.Array(numbers)))
    for number, page in enumerate(document.pages):
        page.StructParents = number
    document.Root.StructTreeRoot = tree
    document.Root.MarkInfo = pikepdf.Dictionary(Marked=True)
    document.Root.Lang = "en"
    document.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
    kept = io.BytesIO()
    document.save(kept, deterministic_id=True)
    kept.seek(0)
    return kept


def one(number):
    record = dict(question["record"], remark=f"Number {number}.")
    data = json.dumps(record, sort_keys=True, separators=(",", ":")).encode()
    writer = IncrementalPdfFileWriter(archived(drawn(record, data, number), record["ended"]))
    file = embed.EmbeddedFileObject.from_file_data(writer, data, mime_type="application/json")
    embed.embed_file(writer, embed.FileSpec("record.json", embedded_data=file))
    fields.append_signature_field(writer, fields.SigFieldSpec("observer"))
    fields.append_signature_field(writer, fields.SigFieldSpec("person"))
    meta = signers.PdfSignatureMetadata(
        field_name="observer",
        md_algorithm="sha256",
        subfilter=fields.SigSeedSubFilter.PADES,
        certify=True,
        docmdp_permissions=fields.MDPPerm.FILL_FORMS,
        embed_validation_info=True,
        validation_context=trust,
    )
    signed = io.BytesIO()
    signers.sign_pdf(writer, meta, signer=signer, output=signed)
    return signed


if "keep" in question:
    open(question["keep"], "wb").write(one(0).getvalue())
one(0)
before = time.perf_counter()
for number in range(question["records"]):
    one(number)
print(json.dumps(int((time.perf_counter() - before) * 1e6)))
