using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ConsultDesk.Migrations.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class TheDoor : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateTime>(
                name: "LeftAt",
                table: "AspNetUsers",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "Invitations",
                columns: table => new
                {
                    Id = table.Column<Guid>(type: "uuid", nullable: false),
                    TokenSha256 = table.Column<byte[]>(type: "bytea", maxLength: 32, nullable: false),
                    Role = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    ForWhom = table.Column<string>(type: "character varying(300)", maxLength: 300, nullable: false),
                    UserId = table.Column<Guid>(type: "uuid", nullable: true),
                    CreatedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    CreatedBy = table.Column<Guid>(type: "uuid", nullable: false),
                    ExpiresAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    RevokedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    UsedAt = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    Version = table.Column<Guid>(type: "uuid", nullable: false),
                    FirmId = table.Column<Guid>(type: "uuid", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_Invitations", x => x.Id);
                    table.ForeignKey(
                        name: "FK_Invitations_Firms_FirmId",
                        column: x => x.FirmId,
                        principalTable: "Firms",
                        principalColumn: "Id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "IX_Invitations_FirmId",
                table: "Invitations",
                column: "FirmId");

            migrationBuilder.CreateIndex(
                name: "IX_Invitations_TokenSha256",
                table: "Invitations",
                column: "TokenSha256",
                unique: true);

            // The rows of the audit stay as they were written, whoever asks: the program's own rule says so in words, this holds without it.
            migrationBuilder.Sql("""
                CREATE FUNCTION "Audit_stays"() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN RAISE EXCEPTION 'The audit is written once and never changed or deleted.'; END $$;
                """);
            migrationBuilder.Sql("""
                CREATE TRIGGER "Audit_is_not_changed" BEFORE UPDATE OR DELETE ON "Audit"
                FOR EACH ROW EXECUTE FUNCTION "Audit_stays"();
                """);
            migrationBuilder.Sql("""
                CREATE TRIGGER "Audit_is_not_emptied" BEFORE TRUNCATE ON "Audit"
                FOR EACH STATEMENT EXECUTE FUNCTION "Audit_stays"();
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("""DROP TRIGGER "Audit_is_not_emptied" ON "Audit";""");
            migrationBuilder.Sql("""DROP TRIGGER "Audit_is_not_changed" ON "Audit";""");
            migrationBuilder.Sql("""DROP FUNCTION "Audit_stays"();""");

            migrationBuilder.DropTable(
                name: "Invitations");

            migrationBuilder.DropColumn(
                name: "LeftAt",
                table: "AspNetUsers");
        }
    }
}
